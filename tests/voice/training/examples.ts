/** The cached features of all scenes, in one shared block of memory that every lane of the training reads. */
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { EMBEDDING_SIZE } from '$lib/voice/features/embedding';
import { fromHalf } from '$lib/voice/half';
import type { Scene } from '../scenes';

export interface SceneRow {
	readonly id: number;
	readonly kind: Scene['kind'];
	readonly words: readonly string[];
	readonly fold: number;
	/** The step in which each word ends. */
	readonly ends: readonly number[];
	readonly steps: number;
	/** Where its vectors begin in the block, in floats. */
	readonly start: number;
}

export interface Block {
	readonly numbers: SharedArrayBuffer;
	readonly rows: readonly SceneRow[];
}

/** Reads every shard. Throws where there is none. */
export function readBlock(folder: string): Block {
	const shards = readdirSync(folder).filter((name) => name.endsWith('.f16')).map((name) => name.replace('.f16', ''));
	if (shards.length === 0) throw new Error(`no features in ${folder}: extract them first`);
	const rows: SceneRow[] = [];
	const parts: Float32Array[] = [];
	let start = 0;
	for (const shard of shards) {
		for (const line of readFileSync(join(folder, `${shard}.jsonl`), 'utf8').trim().split('\n')) {
			const row = JSON.parse(line) as Omit<SceneRow, 'start'>;
			rows.push({ ...row, start });
			start += row.steps * EMBEDDING_SIZE;
		}
		parts.push(fromHalf(new Uint16Array(new Uint8Array(readFileSync(join(folder, `${shard}.f16`))).buffer)));
	}
	const numbers = new SharedArrayBuffer(start * 4);
	let at = 0;
	for (const part of parts) {
		new Float32Array(numbers).set(part, at);
		at += part.length;
	}
	// the same order whatever the number of shards
	return { numbers, rows: rows.sort((a, b) => a.id - b.id) };
}

/** Mean and standard deviation of each of the 96 numbers over the rows. */
export function spreadOf(block: Block, rows: readonly SceneRow[]): { mean: Float64Array; deviation: Float64Array } {
	const numbers = new Float32Array(block.numbers);
	const [mean, square] = [new Float64Array(EMBEDDING_SIZE), new Float64Array(EMBEDDING_SIZE)];
	let count = 0;
	for (const row of rows) {
		for (let t = 0; t < row.steps; t++, count++) {
			for (let j = 0; j < EMBEDDING_SIZE; j++) {
				const x = numbers[row.start + t * EMBEDDING_SIZE + j]!;
				mean[j] = mean[j]! + x;
				square[j] = square[j]! + x * x;
			}
		}
	}
	const deviation = square.map((sum, j) => Math.sqrt(Math.max(1e-6, sum / count - (mean[j]! / count) ** 2)));
	return { mean: mean.map((sum) => sum / count), deviation };
}
