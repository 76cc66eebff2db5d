/** The recordings of people: which there are, who speaks, and which fifth of the speakers each belongs to. */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readWav, type Sound } from '$lib/voice/wav';
import { resample } from '$lib/voice/resample';
import { SAMPLE_RATE } from '$lib/voice/features/mel';
import { VOCABULARY } from './vocabulary';

export const FOLDS = 5;

export interface Recording {
	readonly path: string;
	readonly source: 'speech-commands' | 'fsdd' | 'noise' | 'librispeech' | 'ljspeech';
	/** The word said; for talk and noise empty. */
	readonly word: string;
	/** The words of the vocabulary in it. */
	readonly words: readonly string[];
	readonly speaker: string;
	/** 0 to 4, by speaker (for noise by file): a head tested on it never saw it. */
	readonly fold: number;
	/** For talk: where it lies in its file, in seconds. */
	readonly part?: readonly [number, number];
}

const hashFold = (name: string) => createHash('sha256').update(`fold ${name}`).digest().readUInt32LE(0) % FOLDS;
// three speakers cannot be spread by chance: one each to the first three folds
const FSDD_FOLDS: Readonly<Record<string, number>> = { george: 0, jackson: 1, lucas: 2 };

const rowsOf = (path: string) => readFileSync(path, 'utf8').trim().split('\n').slice(1).map((line) => line.split(','));

/** Single words, digits, other words and background noise. */
export function wordRecordings(folder: string): Recording[] {
	return rowsOf(join(folder, 'speech', 'manifest.csv')).map(([file, kind, word, speaker]) => {
		const source = kind === 'noise' ? 'noise' : file!.startsWith('fsdd') ? 'fsdd' : 'speech-commands';
		const fold = source === 'fsdd' ? FSDD_FOLDS[speaker!] : hashFold(source === 'noise' ? file! : speaker!);
		if (fold === undefined) throw new Error(`no fold for speaker ${speaker} of ${file}`);
		const said = kind === 'noise' ? '' : word!;
		return { path: join(folder, 'speech', file!), source, word: said, words: VOCABULARY.includes(said) ? [said] : [], speaker: speaker!, fold };
	});
}

/** Talk, utterance by utterance. */
export function talkRecordings(folder: string): Recording[] {
	return rowsOf(join(folder, 'talk', 'segments.csv'))
		// what is known to hold a word of the vocabulary is no counter-example; where no one knows (?), it is taken for one
		.filter((row) => ['', '?'].includes(row.at(-1)!.trim()))
		.map(([file, start, end, source, speaker]) => ({
		path: join(folder, 'talk', file!),
		source: source as 'librispeech' | 'ljspeech',
		word: '',
		words: [],
		speaker: speaker!,
		fold: hashFold(speaker!),
		part: [Number(start), Number(end)] as const
	}));
}

const decoded = new Map<string, Sound>();

/** Reads WAV, and FLAC through sox or, where there is a WAV beside it, that. */
function soundOf(path: string): Sound {
	if (path.endsWith('.wav')) return readWav(readFileSync(path));
	const kept = decoded.get(path);
	if (kept) return kept;
	const sound = readWav(execFileSync('sox', [path, '-t', 'wav', '-'], { maxBuffer: 2 ** 30 }));
	decoded.set(path, sound);
	return sound;
}

/** The recording's samples at 16 kHz. */
export function load(recording: { readonly path: string; readonly part?: readonly [number, number] }): Float32Array {
	const { sampleRate, samples } = soundOf(recording.path);
	const [from, to] = recording.part ?? [0, samples.length / sampleRate];
	return resample(samples.subarray(Math.round(from * sampleRate), Math.round(to * sampleRate)), sampleRate, SAMPLE_RATE);
}
