/** What the bench keeps between its stages: trials with their features, then with what a head made of them. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { EMBEDDING_SIZE } from '$lib/voice/features/embedding';
import { fromHalf } from '$lib/voice/half';
import type { Trial } from './trials';

/** A trial without its sound; `endS` is null where no one knows where the word ends. */
export interface TrialRow extends Pick<Trial, 'kind' | 'source' | 'condition' | 'words' | 'word' | 'speaker' | 'fold' | 'path'> {
	readonly endS: number | null;
	readonly steps: number;
}

/** One step at which some word was not out of the question: its number, then the logarithms of all probabilities. */
export interface Lively {
	readonly step: number;
	readonly logP: readonly number[];
}

export interface Posteriors extends TrialRow {
	readonly lively: readonly Lively[];
}

/** Below this probability of any word a step is not kept. */
export const LIVELY = 0.02;

/** Names of the shards that are whole. Throws where there is none. */
function shardsOf(folder: string): string[] {
	const names = existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith('.f16')) : [];
	if (names.length === 0) throw new Error(`nothing heard in ${folder}: run npm run voice:train first`);
	return names.map((name) => name.replace('.f16', '')).toSorted();
}

/** Calls `take` with each trial of a shard folder and its vectors. Throws where there is none. */
export function eachTrial(folder: string, take: (trial: Posteriors, vectors: Float32Array) => void): void {
	for (const name of shardsOf(folder)) {
		const halves = new Uint16Array(new Uint8Array(readFileSync(join(folder, `${name}.f16`))).buffer);
		let at = 0;
		for (const line of readFileSync(join(folder, `${name}.jsonl`), 'utf8').trim().split('\n')) {
			const row = JSON.parse(line) as Posteriors;
			take(row, fromHalf(halves.subarray(at, at + row.steps * EMBEDDING_SIZE)));
			at += row.steps * EMBEDDING_SIZE;
		}
	}
}

/** All trials of a shard folder with the steps in which some word was likely. */
export const readPosteriors = (folder: string): Posteriors[] =>
	shardsOf(folder).flatMap((name) => readFileSync(join(folder, `${name}.jsonl`), 'utf8').trim().split('\n').map((line) => JSON.parse(line) as Posteriors));
