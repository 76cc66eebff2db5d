/** Has a trial heard by the ears that never heard its speaker, and keeps what they made of it. */
import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DoubleHearing } from '$lib/voice/double-hearing';
import { fromHalf, toHalf } from '$lib/voice/half';
import { cacheFolder } from '../paths';
import { VOCABULARY } from '../vocabulary';
import { LIVELY, type Lively, type Posteriors, type TrialRow } from './cache';

const numbersOf = (file: string) => fromHalf(new Uint16Array(new Uint8Array(readFileSync(join(cacheFolder(), 'heads', file))).buffer));

export interface FoldModel {
	readonly words: readonly string[];
	readonly embedding: Float32Array;
	readonly head: Float32Array;
}

/** The pair that left a fold's speakers out. */
export const modelOf = (fold: number): FoldModel => ({ words: VOCABULARY, embedding: numbersOf(`${fold}.embedding.f16`), head: numbersOf(`${fold}.f16`) });

const ears = new Map<number, DoubleHearing>();

function earsOf(fold: number): DoubleHearing {
	const known = ears.get(fold);
	if (known) return known;
	const made = new DoubleHearing(modelOf(fold));
	ears.set(fold, made);
	return made;
}

/** One shard of what was heard: the vectors of every step, and the steps in which some word was likely. */
export class Kept {
	readonly #lines: string[] = [];
	readonly #vectors: Uint16Array[] = [];

	/** `sounds`: the parts of one trial at 16 kHz, one after another. Returns the number of steps. */
	hear(row: Omit<TrialRow, 'steps'>, sounds: readonly Float32Array[]): number {
		const hearing = earsOf(row.fold);
		const lively: Lively[] = [];
		const numbers: number[] = [];
		let steps = 0;
		hearing.reset();
		for (const sound of sounds) {
			hearing.push(sound, ({ vector, logProbabilities }) => {
				numbers.push(...vector);
				const step = steps++;
				if (1 - Math.exp(logProbabilities[VOCABULARY.length]!) < LIVELY) return;
				lively.push({ step, logP: Array.from(logProbabilities, (x) => Math.round(x * 1000) / 1000) });
			});
		}
		this.#lines.push(JSON.stringify({ ...row, steps, lively } satisfies Posteriors));
		this.#vectors.push(toHalf(Float32Array.from(numbers)));
		return steps;
	}

	/** Written beside and renamed, so that a shard that is there is whole. */
	write(folder: string, shard: number): void {
		writeFileSync(join(folder, `${shard}.jsonl`), this.#lines.join('\n') + '\n');
		writeFileSync(join(folder, `${shard}.part`), Buffer.concat(this.#vectors.map((part) => Buffer.from(part.buffer))));
		renameSync(join(folder, `${shard}.part`), join(folder, `${shard}.f16`));
	}
}
