/** One lane of the training: a thread that turns batches into gradients. Started by fit.ts. */
import { parentPort, workerData } from 'node:worker_threads';
import { EMBEDDING_SIZE } from '$lib/voice/features/embedding';
import { chanceFrom, type Chance } from '../random';
import type { SceneRow } from './examples';
import { Network, type Example } from './network';

export interface LaneStart {
	readonly block: SharedArrayBuffer;
	readonly words: readonly string[];
	readonly numbers: SharedArrayBuffer;
	readonly gradient: SharedArrayBuffer;
	readonly mean: Float64Array;
	readonly deviation: Float64Array;
	readonly keep: number;
	readonly keepInput: number;
	readonly jitter: number;
	readonly seed: string;
}

export interface LaneWork {
	readonly batch: readonly (SceneRow & { readonly weight: number })[];
	readonly round: number;
}

const start = workerData as LaneStart;
const [block, numbers, gradient] = [start.block, start.numbers, start.gradient].map((shared) => new Float32Array(shared)) as [Float32Array, Float32Array, Float32Array];
const network = new Network(start.words.length);
const place = new Map(start.words.map((word, i) => [word, i]));

/** Steps of 80 ms after its end in which a word may still be told. */
const LATEST_STEPS = 4;

/** Whole channels of the embedding left out at random, scene by scene: the head may not lean on any one. */
function example(row: LaneWork['batch'][number], chance: Chance): Example {
	const open = Float32Array.from({ length: EMBEDDING_SIZE }, () => (chance.unit() < start.keepInput ? 1 / start.keepInput : 0));
	const vectors = block.slice(row.start, row.start + row.steps * EMBEDDING_SIZE);
	for (let i = 0; i < vectors.length; i++) {
		const j = i % EMBEDDING_SIZE;
		vectors[i] = ((vectors[i]! - start.mean[j]!) / start.deviation[j]! + start.jitter * chance.normal()) * open[j]!;
	}
	return { steps: row.steps, vectors, words: row.words.map((word) => place.get(word)!), latest: row.ends.map((end) => end + LATEST_STEPS), weight: row.weight };
}

parentPort!.on('message', (work: LaneWork) => {
	gradient.fill(0);
	const chance = chanceFrom(start.seed, work.round);
	const batch = work.batch.map((row) => example(row, chance));
	const cost = network.learn(batch, numbers, gradient, start.keep, chance);
	parentPort!.postMessage(cost);
});
