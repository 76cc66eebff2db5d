/** Fits one head: scenes in batches over three lanes, Adam, a rate that falls by half a cosine. The same seed gives the same head. */
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { EMBEDDING_SIZE } from '$lib/voice/features/embedding';
import { headLayers, headNumbers, SPAN } from '$lib/voice/head-shape';
import { chanceFrom } from '../random';
import { Adam } from './adam';
import { spreadOf, type Block, type SceneRow } from './examples';
import type { LaneStart, LaneWork } from './lane';
import { BATCH_STEPS, offsets } from './network';

export interface Settings {
	readonly epochs: number;
	readonly rate: number;
	readonly decay: number;
	/** Share of hidden units kept in training. */
	readonly keep: number;
	/** Share of the embedding's channels kept in training. */
	readonly keepInput: number;
	/** Noise added to the normalised embedding, as a standard deviation. */
	readonly jitter: number;
	readonly seed: number;
}

export const SETTINGS: Settings = { epochs: 10, rate: 2e-3, decay: 0.02, keep: 0.6, keepInput: 0.9, jitter: 0.4, seed: 1 };

/** Lanes whatever the number of cores: the batches, and so the head, depend on it. */
const LANES = 3;
const WARM_ROUNDS = 100;

/** How much a scene counts: people more than synthesisers, whose number is ours to choose. */
const WEIGHTS: Readonly<Record<SceneRow['kind'], number>> = {
	word: 2, string: 1, other: 2, talk: 1.5, 'in talk': 1.5, noise: 0.5, 'synthetic word': 0.5, 'synthetic string': 0.3, 'synthetic other': 0.5
};

function startingNumbers(words: number, seed: number): Float32Array {
	const chance = chanceFrom('start', seed);
	const numbers = new Float32Array(headNumbers(words));
	const layers = headLayers(words);
	for (const [i, start] of offsets(layers).entries()) {
		const { depth, width } = layers[i]!;
		// He and others, "Delving deep into rectifiers", ICCV 2015: equation 10
		const scale = i === layers.length - 1 ? 0.2 : 1;
		for (let j = 0; j < depth * width; j++) numbers[start + j] = chance.normal() * Math.sqrt(2 / depth) * scale;
		// most steps end no word: beginning there saves the first epoch
		if (i === layers.length - 1) numbers[start + depth * width + words] = 4;
	}
	return numbers;
}

/** Batches of scenes of like length never exceed a lane's room. */
function batchesOf(rows: readonly SceneRow[]): SceneRow[][] {
	const batches: SceneRow[][] = [];
	let [batch, steps]: [SceneRow[], number] = [[], 0];
	for (const row of rows) {
		if (steps + row.steps > BATCH_STEPS) {
			batches.push(batch);
			[batch, steps] = [[], 0];
		}
		batch.push(row);
		steps += row.steps;
	}
	if (batch.length > 0) batches.push(batch);
	return batches;
}

/** Puts mean and deviation of the vectors into the first layer, so that the head takes them as they come. */
function fold(numbers: Float32Array, mean: Float64Array, deviation: Float64Array): Float32Array {
	const out = Float32Array.from(numbers);
	const { depth, width } = headLayers(1)[0]!;
	for (let k = 0; k < SPAN * EMBEDDING_SIZE; k++) {
		const j = k % EMBEDDING_SIZE;
		for (let c = 0; c < width; c++) {
			const scaled = numbers[k * width + c]! / deviation[j]!;
			out[k * width + c] = scaled;
			out[depth * width + c] = out[depth * width + c]! - scaled * mean[j]!;
		}
	}
	return out;
}

/** Trains on `rows`; returns the head's numbers (headNumbers), ready for use. `tell` hears of each epoch. */
export async function fit(
	block: Block, rows: readonly SceneRow[], words: readonly string[], settings: Settings, tell: (line: string) => void
): Promise<Float32Array> {
	const usable = rows.filter((row) => row.steps <= BATCH_STEPS);
	const { mean, deviation } = spreadOf(block, usable);
	const size = headNumbers(words.length);
	const numbers = new SharedArrayBuffer(size * 4);
	const live = new Float32Array(numbers);
	live.set(startingNumbers(words.length, settings.seed));
	const lanes = Array.from({ length: LANES }, (_, lane) => {
		const gradient = new SharedArrayBuffer(size * 4);
		const start: LaneStart = { block: block.numbers, words, numbers, gradient, mean, deviation, keep: settings.keep, keepInput: settings.keepInput, jitter: settings.jitter, seed: `lane ${lane} ${settings.seed}` };
		return { worker: new Worker(join(import.meta.dirname, 'lane.mjs'), { workerData: start }), gradient: new Float32Array(gradient) };
	});
	const ask = (lane: (typeof lanes)[number], work: LaneWork) =>
		new Promise<number>((resolve, reject) => {
			lane.worker.removeAllListeners();
			lane.worker.once('message', resolve).once('error', reject);
			lane.worker.postMessage(work);
		});
	const adam = new Adam(size);
	const chance = chanceFrom('order', settings.seed);
	let round = 0;
	for (let epoch = 0; epoch < settings.epochs; epoch++) {
		const batches = batchesOf(chance.shuffle(usable));
		let cost = 0;
		for (let at = 0; at < batches.length; at += LANES) {
			const share = batches.slice(at, at + LANES);
			const costs = await Promise.all(
				share.map((batch, i) => ask(lanes[i]!, { round, batch: batch.map((row) => ({ ...row, weight: WEIGHTS[row.kind] })) }))
			);
			cost += costs.reduce((a, b) => a + b);
			const scenes = share.reduce((sum, batch) => sum + batch.length, 0);
			const total = new Float32Array(size);
			for (const lane of lanes.slice(0, share.length)) for (let i = 0; i < size; i++) total[i] = total[i]! + lane.gradient[i]! / scenes;
			clip(total, 5);
			const progress = (epoch + at / batches.length) / settings.epochs;
			const rate = settings.rate * Math.min(1, ++round / WARM_ROUNDS) * (0.5 + 0.5 * Math.cos(Math.PI * progress));
			adam.step(live, total, rate, settings.decay);
		}
		tell(`epoch ${epoch + 1} of ${settings.epochs}: cost ${(cost / usable.length).toFixed(4)} a scene`);
	}
	await Promise.all(lanes.map((lane) => lane.worker.terminate()));
	return fold(live, mean, deviation);
}

/** Shortens a gradient longer than `longest`. */
function clip(gradient: Float32Array, longest: number): void {
	const length = Math.sqrt(gradient.reduce((sum, g) => sum + g * g, 0));
	if (length > longest) for (let i = 0; i < gradient.length; i++) gradient[i] = (gradient[i]! * longest) / length;
}
