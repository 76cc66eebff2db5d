/**
 * Another recogniser on the same files: Debian's pocketsphinx with its US English model, in a grammar of one word or phrase out of those
 * that are open (JSpeech Grammar Format, W3C note of 5 June 2000). It is forced to choose: what it hears is one of them or nothing.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SAMPLE_RATE } from '$lib/voice/features/mel';
import { joined, type Trial } from './trials';

const PROGRAM = 'pocketsphinx_batch';
const MODEL = '/usr/share/pocketsphinx/model/en-us';

/** What it made of one trial. */
export interface PeerRow extends Pick<Trial, 'source' | 'condition' | 'words' | 'word' | 'speaker'> {
	/** What was open: of a question, or of a reading. */
	readonly gate: 'question' | 'reading';
	readonly heard: string | null;
}

/** Why there is no comparison, in words for who runs the bench; nothing where there can be one. */
export function whyNoPeer(): string | undefined {
	const found = (process.env['PATH'] ?? '').split(':').some((folder) => existsSync(join(folder, PROGRAM)));
	return found && existsSync(MODEL) ? undefined : 'pocketsphinx is not here (Debian: packages pocketsphinx and pocketsphinx-en-us): its column is left out';
}

/** Whole numbers of 16 bits, lowest byte first, without a header, followed by as much silence as our own recogniser gets. */
function asRaw(sound: Float32Array): Uint8Array {
	const all = joined([sound, new Float32Array(SAMPLE_RATE)]);
	return new Uint8Array(Int16Array.from(all, (x) => Math.round(Math.max(-1, Math.min(1, x)) * 32767)).buffer);
}

/** What it hears in each trial when `open` may be said: one of these, or nothing. Throws where the program fails. */
export function heardByPeer(trials: readonly Trial[], open: readonly string[]): (string | undefined)[] {
	const folder = mkdtempSync(join(tmpdir(), 'handrail-peer-'));
	try {
		const at = (name: string) => join(folder, name);
		writeFileSync(at('words.gram'), `#JSGF V1.0;\ngrammar open;\npublic <open> = ${open.map((word) => word.toLowerCase()).join(' | ')};\n`);
		trials.forEach((trial, i) => writeFileSync(at(`${i}.raw`), asRaw(trial.sound())));
		writeFileSync(at('files'), trials.map((_, i) => `${i}\n`).join(''));
		const model = ['-hmm', join(MODEL, 'en-us'), '-dict', join(MODEL, 'cmudict-en-us.dict'), '-jsgf', at('words.gram')];
		const sound = ['-adcin', 'yes', '-samprate', String(SAMPLE_RATE), '-cepdir', folder, '-cepext', '.raw', '-ctl', at('files')];
		execFileSync(PROGRAM, [...model, ...sound, '-hyp', at('heard'), '-logfn', at('log')], { stdio: 'ignore' });
		const lines = readFileSync(at('heard'), 'utf8').trimEnd().split('\n');
		if (lines.length !== trials.length) throw new Error(`${PROGRAM} told of ${lines.length} files, expected ${trials.length}`);
		const spelled = new Map(open.map((word) => [word.toLowerCase(), word]));
		// each line: the words, then in brackets the file's name and a score
		return lines.map((line) => spelled.get(line.replace(/\s*\(\S+ \S+\)$/, '').trim()));
	} finally {
		rmSync(folder, { recursive: true, force: true });
	}
}
