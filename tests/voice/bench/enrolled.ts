/** Enrolment measured on FSDD: three clean takes of each digit, the other takes heard; with the other speakers as neighbours (heads know them). */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Weighing } from '$lib/voice/decoder';
import { EMBEDDING_SIZE } from '$lib/voice/features/embedding';
import { type Take, TAKES } from '$lib/voice/enrolment';
import { fromHalf } from '$lib/voice/half';
import { Listener, STEP_SAMPLES } from '$lib/voice/listener';
import { SAMPLE_RATE } from '$lib/voice/features/mel';
import type { Features } from '$lib/voice/stages';
import { cacheFolder } from '../paths';
import { DIGITS, VOCABULARY } from '../vocabulary';
import { eachTrial, type TrialRow } from './cache';
import { READING } from './gates';

export interface Kept {
	readonly row: TrialRow;
	readonly vectors: Float32Array;
	readonly take: number;
}

/** Passes kept vectors on as if they came from sound. */
const asKept: Features = {
	size: EMBEDDING_SIZE,
	push(samples, take) {
		for (let at = 0; at + EMBEDDING_SIZE <= samples.length; at += EMBEDDING_SIZE) take(samples.subarray(at, at + EMBEDDING_SIZE));
	},
	reset: () => undefined
};

/** FSDD's clips are cut tight; half a second of silence was put before them (trials.ts). */
const BEGINS_S = 0.5;
const stepAt = (seconds: number) => (seconds * SAMPLE_RATE) / STEP_SAMPLES;

/** The word's vectors, cut as take.ts cuts them: up to one step after the word. */
const cut = ({ row, vectors }: Kept) => vectors.slice(Math.floor(stepAt(BEGINS_S)) * EMBEDDING_SIZE, (Math.ceil(stepAt(row.endS ?? BEGINS_S)) + 1) * EMBEDDING_SIZE);

/** The same recording in noise stands for the noise that take.ts mixes in. */
export const takeOf = (kept: Kept, own: readonly Kept[]): Take => ({ clean: cut(kept), noisy: cut(own.find(({ row }) => row.path === kept.row.path && row.condition === '10 dB')!) });

export interface EnrolledResult {
	readonly row: TrialRow;
	readonly right: boolean;
	/** Somebody else than the enrolled speaker. */
	readonly neighbour: boolean;
	readonly told: number;
}

export function enrolledResults(weighings: readonly Weighing[]): EnrolledResult[] {
	const all: Kept[] = [];
	eachTrial(join(cacheFolder(), 'bench'), (row, vectors) => {
		if (row.kind === 'word' && row.source === 'fsdd') all.push({ row, vectors: vectors.slice(), take: Number(/_(\d+)\.wav$/.exec(row.path)?.[1]) });
	});
	all.sort((a, b) => a.take - b.take);
	return [...new Set(all.map(({ row }) => row.speaker))].flatMap((speaker) => {
		const own = all.filter(({ row }) => row.speaker === speaker);
		const { fold } = own[0]!.row;
		const head = fromHalf(new Uint16Array(new Uint8Array(readFileSync(join(cacheFolder(), 'heads', `${fold}.f16`))).buffer));
		const listener = new Listener({ words: VOCABULARY, embedding: new Float32Array(0), head, weighing: weighings[fold]! }, asKept);
		listener.setOpen(READING);
		const takes = DIGITS.flatMap((word) => own.filter(({ row }) => row.word === word && row.condition === 'clean').slice(0, TAKES));
		const enrolled = DIGITS.map((word) => ({ word, takes: takes.filter(({ row }) => row.word === word).map((kept) => takeOf(kept, own)) }));
		const taken = new Set(takes.map(({ row }) => row.path));
		listener.enrol(enrolled);
		const told = ({ vectors }: Kept): string[] => {
			const words: string[] = [];
			listener.reset();
			listener.push(vectors, (hearing) => void (hearing.unsure || words.push(hearing.word)));
			return words;
		};
		return [
			...own.filter(({ row }) => !taken.has(row.path)).map((kept) => {
				const words = told(kept);
				return { row: kept.row, right: words.length === 1 && words[0] === kept.row.word, neighbour: false, told: words.length };
			}),
			...all.filter(({ row }) => row.speaker !== speaker).map((kept) => ({ row: kept.row, right: false, neighbour: true, told: told(kept).length }))
		];
	});
}
