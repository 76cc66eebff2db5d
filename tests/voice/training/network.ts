/** The head while it learns: forward and backward over a batch of scenes, on the ears' own arithmetic kernel. */
import { EMBEDDING_SIZE } from '$lib/voice/features/embedding';
import { createKernel, packWeights, type Kernel } from '$lib/voice/features/kernel';
import { headLayers, HIDDEN, HIDDEN_SPAN, SPAN, type LayerShape } from '$lib/voice/head-shape';
import type { Chance } from '../random';
import { ctc } from './ctc';

/** One scene as the head sees it: steps × 96 normalised embeddings, with the words said as indices. */
export interface Example {
	readonly steps: number;
	readonly vectors: Float32Array;
	readonly words: readonly number[];
	/** Last step at which each word may be told. */
	readonly latest: readonly number[];
	readonly weight: number;
}

interface Matrix {
	readonly address: number;
	readonly rows: number;
	readonly columns: number;
}

/** Room for so many steps in one batch; longer batches are refused by the caller. */
export const BATCH_STEPS = 1024;

export class Network {
	readonly #kernel: Kernel = createKernel();
	readonly #layers: readonly LayerShape[];
	readonly #classes: number;
	readonly #inputs: Matrix[];
	readonly #outputs: Matrix[];
	readonly #scratch: number[];
	readonly #packed: number;
	readonly #zero: number;

	constructor(words: number) {
		this.#classes = words + 1;
		this.#layers = headLayers(words);
		const matrix = (rows: number, columns: number): Matrix => ({ address: this.#kernel.reserve(rows * columns), rows, columns });
		this.#inputs = this.#layers.map(({ depth }) => matrix(BATCH_STEPS, depth));
		this.#outputs = this.#layers.map(({ width }) => matrix(BATCH_STEPS, width));
		const largest = Math.max(...this.#layers.map(({ depth, width }) => Math.max(depth * BATCH_STEPS, width * BATCH_STEPS, depth * width)));
		this.#scratch = [0, 1, 2].map(() => this.#kernel.reserve(largest));
		this.#packed = this.#kernel.reserve(largest);
		this.#zero = this.#kernel.reserve(1024);
	}

	#multiply(input: number, rows: number, depth: number, weights: Float32Array, width: number, output: number, bias?: Float32Array): void {
		this.#kernel.view(this.#packed, weights.length).set(weights);
		const zero = this.#kernel.view(this.#zero, 1024).fill(0);
		if (bias) zero.set(bias);
		this.#kernel.multiply({
			input, output, weights: this.#packed, bias: this.#zero, rows, inputStride: depth * 4, outputStride: width * 4,
			taps: 1, tapStride: 0, depth, width, slope: 1, least: -Infinity
		});
	}

	/** Adds d cost / d number of the batch to `gradient`; returns the summed cost. `keep` is the share of hidden units kept. */
	learn(batch: readonly Example[], numbers: Float32Array, gradient: Float32Array, keep: number, chance: Chance): number {
		const used = batch.reduce((sum, e) => sum + e.steps, 0);
		if (used > BATCH_STEPS) throw new Error(`a batch of ${used} steps, expected at most ${BATCH_STEPS}`);
		const rows = Math.ceil(used / 4) * 4;
		const starts = offsets(this.#layers);
		const steps = batch.map((e) => e.steps);
		this.#fillInput(batch, rows);
		const masks: Float32Array[] = [];
		for (const [i, { depth, width }] of this.#layers.entries()) {
			const weights = numbers.subarray(starts[i]!, starts[i]! + depth * width);
			const bias = numbers.subarray(starts[i]! + depth * width, starts[i]! + (depth + 1) * width);
			this.#multiply(this.#inputs[i]!.address, rows, depth, packWeights(width, depth, (c, k) => weights[k * width + c]!), width, this.#outputs[i]!.address, bias);
			if (i === 2) break;
			const out = this.#kernel.view(this.#outputs[i]!.address, rows * width);
			const mask = new Float32Array(rows * width);
			for (let j = 0; j < out.length; j++) {
				if (out[j]! > 0 && chance.unit() < keep) mask[j] = 1 / keep;
				out[j] = out[j]! * mask[j]!;
			}
			masks.push(mask);
			this.#spread(out, steps, i === 0 ? HIDDEN_SPAN : 1, HIDDEN, this.#inputs[i + 1]!, rows);
		}
		const cost = this.#cost(batch, rows);
		this.#backward(rows, steps, starts, masks, numbers, gradient);
		return cost;
	}

	#fillInput(batch: readonly Example[], rows: number): void {
		const flat = new Float32Array(rows * EMBEDDING_SIZE);
		let at = 0;
		for (const e of batch) {
			flat.set(e.vectors, at);
			at += e.vectors.length;
		}
		this.#spread(flat, batch.map((e) => e.steps), SPAN, EMBEDDING_SIZE, this.#inputs[0]!, rows);
	}

	/** Lays each step's last `span` rows side by side; before a scene's start stands its first row. */
	#spread(from: Float32Array, steps: readonly number[], span: number, size: number, to: Matrix, rows: number): void {
		const out = this.#kernel.view(to.address, rows * span * size).fill(0);
		let start = 0;
		for (const count of steps) {
			for (let t = 0; t < count; t++) {
				for (let k = 0; k < span; k++) {
					const source = start + Math.max(0, t - span + 1 + k);
					out.set(from.subarray(source * size, (source + 1) * size), ((start + t) * span + k) * size);
				}
			}
			start += count;
		}
	}

	/** Cost of all scenes; leaves d cost / d logit in the first scratch. */
	#cost(batch: readonly Example[], rows: number): number {
		const { width } = this.#layers[2]!;
		const logits = this.#kernel.view(this.#outputs[2]!.address, rows * width);
		const slope = this.#kernel.view(this.#scratch[0]!, rows * width).fill(0);
		let [cost, at] = [0, 0];
		for (const e of batch) {
			const part = slope.subarray(at, at + e.steps * width);
			const one = ctc(logits.subarray(at, at + e.steps * width), e.steps, width, this.#classes, e.words, e.latest, part);
			if (Number.isFinite(one)) cost += one * e.weight;
			for (let j = 0; j < part.length; j++) part[j] = part[j]! * e.weight;
			at += e.steps * width;
		}
		return cost;
	}

	#backward(rows: number, steps: readonly number[], starts: readonly number[], masks: readonly Float32Array[], numbers: Float32Array, gradient: Float32Array): void {
		let [slopeAt, nextAt] = [this.#scratch[0]!, this.#scratch[1]!];
		for (let i = 2; i >= 0; i--) {
			const { depth, width } = this.#layers[i]!;
			const slope = this.#kernel.view(slopeAt, rows * width);
			const input = this.#kernel.view(this.#inputs[i]!.address, rows * depth);
			// d cost / d weights = inputᵀ · slope
			const turned = this.#kernel.view(this.#scratch[2]!, rows * depth);
			for (let r = 0; r < rows; r++) for (let k = 0; k < depth; k++) turned[k * rows + r] = input[r * depth + k]!;
			const into = this.#inputs[i]!.address;
			const packedSlope = packWeights(width, rows, (c, r) => slope[r * width + c]!);
			const slopeCopy = slope.slice();
			this.#multiply(this.#scratch[2]!, depth, rows, packedSlope, width, into);
			const found = this.#kernel.view(into, depth * width);
			const start = starts[i]!;
			for (let j = 0; j < found.length; j++) gradient[start + j] = gradient[start + j]! + found[j]!;
			for (let r = 0; r < rows; r++) {
				for (let c = 0; c < width; c++) {
					const j = start + depth * width + c;
					gradient[j] = gradient[j]! + slopeCopy[r * width + c]!;
				}
			}
			if (i === 0) return;
			// d cost / d input = slope · weightsᵀ, gathered back from side by side
			const weights = numbers.subarray(start, start + depth * width);
			this.#multiply(slopeAt, rows, width, packWeights(depth, width, (k, c) => weights[k * width + c]!), depth, this.#scratch[2]!);
			const side = this.#kernel.view(this.#scratch[2]!, rows * depth);
			const below = this.#kernel.view(nextAt, rows * HIDDEN).fill(0);
			gather(side, steps, depth / HIDDEN, below);
			const mask = masks[i - 1]!;
			for (let j = 0; j < below.length; j++) below[j] = below[j]! * mask[j]!;
			[slopeAt, nextAt] = [nextAt, slopeAt];
		}
	}
}

function gather(side: Float32Array, steps: readonly number[], span: number, below: Float32Array): void {
	let start = 0;
	for (const count of steps) {
		for (let t = 0; t < count; t++) {
			for (let k = 0; k < span; k++) {
				const to = (start + Math.max(0, t - span + 1 + k)) * HIDDEN;
				const from = ((start + t) * span + k) * HIDDEN;
				for (let j = 0; j < HIDDEN; j++) below[to + j] = below[to + j]! + side[from + j]!;
			}
		}
		start += count;
	}
}

/** Where each layer's numbers begin. */
export function offsets(layers: readonly LayerShape[]): number[] {
	let at = 0;
	return layers.map(({ depth, width }) => {
		const start = at;
		at += (depth + 1) * width;
		return start;
	});
}
