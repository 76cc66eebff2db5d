/** `handrail hear`: what the ears decide on, file by file, in the same steps as the page. Contract: C7. */
import { readdir, readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { EnrolledWord, Take } from '$lib/voice/enrolment';
import { SAMPLE_RATE } from '$lib/voice/features/mel';
import { SpeechFeatures } from '$lib/voice/features/speech-features';
import { Listener } from '$lib/voice/listener';
import { EARS_LIST, loadModel } from '$lib/voice/model';
import type { Eigenvoices } from '$lib/voice/operator/eigenvoices';
import { OperatorCheck } from '$lib/voice/operator/operator-check';
import { type LoadedVoices, loadVoices } from '$lib/voice/operator/voices';
import { resample } from '$lib/voice/resample';
import { STEP_SAMPLES } from '$lib/voice/stages';
import { takeIn } from '$lib/voice/take';
import { readWav, type Sound, UnreadableSound } from '$lib/voice/wav';
import { BadUse, type Command, type ExitCode, type Io } from './command';

const usage = `usage: handrail hear [--among W,W…] [--enrol FOLDER [--operator-only]] [--json] WAV…
Prints one line for each word decided on: file, milliseconds from its start to the decision, the word, confidence (0 to 1).
Prints nothing where nothing is decided. Each file is followed by one second of silence.
  --among W,W…    only these words of the vocabulary may be decided on (case does not matter)
  --enrol FOLDER  takes of one operator's words, as FOLDER/word/*.wav, three or more of each: who says them is heard better
  --operator-only with --enrol: a word counts only in the voice of the takes, but for "stop", which counts in any
  --json          one JSON object a line
WAV: 16, 24 or 32-bit whole numbers or 32-bit floats, any rate, mono or more channels.`;

interface Asked {
	readonly among: readonly string[] | undefined;
	readonly enrol: string | undefined;
	readonly only: boolean;
	readonly json: boolean;
	readonly files: readonly string[];
}

function parse(args: readonly string[]): Asked {
	const files: string[] = [];
	let among: string[] | undefined;
	let enrol: string | undefined;
	let [json, only, onlyFiles] = [false, false, false];
	for (let i = 0; i < args.length; i++) {
		const arg = args[i]!;
		if (onlyFiles || !arg.startsWith('--')) files.push(arg);
		else if (arg === '--') onlyFiles = true;
		else if (arg === '--json') json = true;
		else if (arg === '--operator-only') only = true;
		else if (arg === '--among' || arg.startsWith('--among=')) {
			const list = arg === '--among' ? args[++i] : arg.slice('--among='.length);
			if (!list) throw new BadUse('--among needs words, separated by commas');
			among = list.split(',').map((word) => word.trim()).filter((word) => word !== '');
		} else if (arg === '--enrol' || arg.startsWith('--enrol=')) {
			enrol = arg === '--enrol' ? args[++i] : arg.slice('--enrol='.length);
			if (!enrol) throw new BadUse('--enrol needs a folder of takes: FOLDER/word/*.wav');
		} else throw new BadUse(`unknown option ${arg}; expected --among, --enrol, --operator-only or --json\n${usage}`);
	}
	if (files.length === 0) throw new BadUse(`expected one or more WAV files\n${usage}`);
	if (only && enrol === undefined) throw new BadUse('--operator-only needs the operator: --enrol FOLDER with takes, FOLDER/word/*.wav');
	return { among, enrol, only, json, files };
}

/** The vocabulary's own spelling of the words asked for. */
function openWords(among: readonly string[] | undefined, vocabulary: readonly string[]): readonly string[] {
	if (!among) return vocabulary;
	const spelled = new Map(vocabulary.map((word) => [word.toLowerCase(), word]));
	const unknown = among.filter((word) => !spelled.has(word.toLowerCase()));
	if (unknown.length > 0 || among.length === 0) {
		throw new BadUse(`--among: not in the vocabulary: ${unknown.join(', ') || '(no word given)'}; expected some of ${vocabulary.join(', ')}`);
	}
	return [...new Set(among.map((word) => spelled.get(word.toLowerCase())!))];
}

/** A file's sound. Throws BadUse with the file's name and what is wrong with it. */
async function readSound(file: string): Promise<Sound> {
	try {
		return readWav(await readFile(file));
	} catch (fault) {
		if (fault instanceof UnreadableSound) throw new BadUse(`${file} cannot be read: ${fault.message}`);
		const { code } = fault as NodeJS.ErrnoException;
		if (code === undefined) throw fault;
		throw new BadUse(`${file} cannot be read: ${code === 'ENOENT' ? 'there is no such file' : code}`);
	}
}

/** Reads the recogniser's files: of the built app, or (where only the command line was built) of the source tree. */
async function modelFiles(): Promise<(name: string) => Promise<Uint8Array>> {
	const here = dirname(fileURLToPath(import.meta.url));
	const folders = [join(here, '../app/client/voice'), join(here, '../../static/voice')];
	for (const folder of folders) {
		const found = await readFile(join(folder, EARS_LIST)).then(() => true, () => false);
		if (found) return (name) => readFile(join(folder, name));
	}
	throw new BadUse(`the recogniser's files are missing: expected ${EARS_LIST} in ${folders.join(' or ')}`);
}

/** An operator's takes: each folder is named as a word of the vocabulary, its WAV files are the takes. */
async function takesIn(folder: string, features: SpeechFeatures, vocabulary: readonly string[], eigenvoices?: Eigenvoices): Promise<EnrolledWord[]> {
	const entries = await readdir(folder, { withFileTypes: true }).catch((fault: NodeJS.ErrnoException) => {
		throw new BadUse(`${folder} cannot be read: ${fault.code === 'ENOENT' ? 'there is no such folder' : (fault.code ?? fault.message)}`);
	});
	const names = entries.filter((entry) => entry.isDirectory()).map(({ name }) => name).toSorted();
	if (names.length === 0) throw new BadUse(`${folder} holds no takes: expected FOLDER/word/*.wav`);
	const words = openWords(names, vocabulary);
	return Promise.all(
		words.map(async (word, i) => {
			const files = (await readdir(join(folder, names[i]!))).filter((name) => name.toLowerCase().endsWith('.wav')).toSorted();
			const takes: Take[] = [];
			for (const file of files) {
				const { samples, sampleRate } = await readSound(join(folder, names[i]!, file));
				takes.push(takeIn(features, resample(samples, sampleRate, SAMPLE_RATE), eigenvoices));
			}
			return { word, takes };
		})
	);
}

function hearFile(listener: Listener, file: string, sound: Float32Array, json: boolean, io: Io): void {
	listener.reset();
	const whole = new Float32Array(sound.length + SAMPLE_RATE);
	whole.set(sound);
	for (let at = 0; at < whole.length; at += STEP_SAMPLES) {
		listener.push(whole.subarray(at, at + STEP_SAMPLES), (hearing) => {
			if (hearing.unsure) return;
			const at_ms = (hearing.step + 1) * ((STEP_SAMPLES / SAMPLE_RATE) * 1000);
			const confidence = Number(hearing.confidence.toFixed(4));
			io.out(json ? JSON.stringify({ file, at_ms, heard: hearing.word, confidence }) + '\n' : `${file}\t${at_ms}\t${hearing.word}\t${confidence}\n`);
		});
	}
}

/** Throws BadUse where the takes tell too little of the voice. */
function checkOf({ eigenvoices, weighing }: LoadedVoices, words: readonly EnrolledWord[]): OperatorCheck {
	try {
		return new OperatorCheck(eigenvoices, weighing, words);
	} catch (fault) {
		if (!(fault instanceof RangeError)) throw fault;
		throw new BadUse(`--operator-only: ${fault.message}`);
	}
}

export const hear: Command = {
	purpose: 'tells what the ears hear in recordings',
	usage,
	async run(args, io): Promise<ExitCode> {
		const asked = parse(args);
		const read = await modelFiles();
		const ears = await loadModel(read);
		const listener = new Listener(ears);
		listener.setOpen(openWords(asked.among, ears.words));
		if (asked.enrol !== undefined) {
			const voices = asked.only ? await loadVoices(read) : undefined;
			const words = await takesIn(asked.enrol, new SpeechFeatures(ears.embedding), ears.words, voices?.eigenvoices);
			listener.enrol(words);
			if (voices) listener.listenOnlyTo(checkOf(voices, words));
		}
		// all are looked at first, so that a bad one is told before anything is written
		for (const file of asked.files) await readSound(file);
		for (const file of asked.files) {
			const { samples, sampleRate } = await readSound(file);
			hearFile(listener, file, resample(samples, sampleRate, SAMPLE_RATE), asked.json, io);
		}
		return 0;
	}
};
