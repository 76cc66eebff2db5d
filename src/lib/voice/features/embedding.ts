/**
 * The speech embedding network, run as a stream: 8 mel rows (80 ms) in, 96 numbers out that tell of the last 775 ms.
 * The network: J. Lin, K. Kilgour, D. Roblek, M. Sharifi, "Training keyword spotters with limited and synthesized speech data",
 * ICASSP 2020. It is convolutional without padding in time, so every layer keeps its last two rows and computes only new ones.
 */
import { createKernel, packWeights, type Kernel } from './kernel';
import { BANDS } from './mel';

export const EMBEDDING_SIZE = 96;
/** Mel rows for one embedding step. */
export const STEP_ROWS = 8;
const SLOPE = 0.2;
const LEAST = -0.4;

/** `time` and `bands`: the filter's extent; `pool`: rows and bands put into one by their maximum after the layer. */
interface Layer {
	readonly from: number;
	readonly to: number;
	readonly time: number;
	readonly bands: number;
	readonly pool?: readonly [number, number];
	readonly plain?: true;
}

const wide = (from: number, to: number): Layer => ({ from, to, time: 1, bands: 3 });
const long = (channels: number, pool?: readonly [number, number]): Layer => ({ from: channels, to: channels, time: 3, bands: 1, pool });

/** Layer by layer, as published. */
export const LAYERS: readonly Layer[] = [
	{ from: 1, to: 24, time: 3, bands: 3 },
	wide(24, 24), long(24, [2, 2]),
	wide(24, 48), long(48), wide(48, 48), long(48, [1, 2]),
	wide(48, 72), long(72), wide(72, 72), long(72, [2, 2]),
	wide(72, 96), long(96), wide(96, 96), long(96, [1, 2]),
	wide(96, 96), long(96), wide(96, 96), long(96, [2, 2]),
	{ from: 96, to: 96, time: 3, bands: 1, plain: true }
];

/** Numbers in the weights file: for each layer its biases (none in the last), then its filters as [to][time][bands][from]. */
export const EMBEDDING_WEIGHTS = LAYERS.reduce((sum, l) => sum + l.to * l.from * l.time * l.bands + (l.plain ? 0 : l.to), 0);

interface Stage {
	readonly layer: Layer;
	readonly bands: number;
	/** Floats of one input row: the bands with one of zeros on either side (and one more for the first layer's step of 4). */
	readonly rowFloats: number;
	readonly input: number;
	readonly raw: number;
	readonly weights: number;
	readonly bias: number;
	kept: number;
}

/** Puts each pool's rows and bands into one by their maximum, from `stage.raw` to `output`; returns how many rows. */
function pool(memory: Float32Array, stage: Stage, made: number, output: number, stride: number): number {
	const [tall, across] = stage.layer.pool!;
	const channels = stage.layer.to;
	const [rows, bands] = [Math.floor(made / tall), Math.floor(stage.bands / across)];
	for (let row = 0; row < rows; row++) {
		for (let band = 0; band < bands; band++) {
			const to = output + row * stride + band * channels;
			for (let i = 0; i < tall; i++) {
				for (let j = 0; j < across; j++) {
					const from = stage.raw / 4 + ((row * tall + i) * stage.bands + band * across + j) * channels;
					if (i + j === 0) memory.copyWithin(to, from, from + channels);
					else for (let c = 0; c < channels; c++) if (memory[from + c]! > memory[to + c]!) memory[to + c] = memory[from + c]!;
				}
			}
		}
	}
	return rows;
}

export class EmbeddingStream {
	readonly #kernel: Kernel;
	readonly #stages: Stage[] = [];
	readonly #rows: number;
	readonly #pending: Float32Array;
	readonly #result: number;
	#pendingRows = 0;
	#due: number;

	/** `weights` as in EMBEDDING_WEIGHTS; `steps` are computed together (1 for listening, more for files). */
	constructor(weights: Float32Array, steps = 1) {
		if (weights.length !== EMBEDDING_WEIGHTS) {
			throw new Error(`embedding network: ${weights.length} weights, expected ${EMBEDDING_WEIGHTS}`);
		}
		this.#rows = steps * STEP_ROWS;
		this.#due = this.#rows - STEP_ROWS / 2;
		this.#pending = new Float32Array(this.#rows * BANDS);
		this.#kernel = createKernel();
		const place = (numbers: Float32Array) => {
			const address = this.#kernel.reserve(numbers.length);
			this.#kernel.view(address, numbers.length).set(numbers);
			return address;
		};
		let [offset, bands, rows] = [0, BANDS, this.#rows];
		for (const layer of LAYERS) {
			const { from, to, time, bands: span } = layer;
			const bias = layer.plain ? new Float32Array(to) : weights.subarray(offset, offset + to);
			offset += layer.plain ? 0 : to;
			const depth = time * span * from;
			const filters = weights.subarray(offset, offset + to * depth);
			offset += to * depth;
			// the first layer's runs are 3 long: a fourth, weightless, fills the kernel's step
			const packed =
				from === 1
					? packWeights(to, time * 4, (column, k) => (k % 4 === 3 ? 0 : filters[column * depth + (k >> 2) * 3 + (k % 4)]!))
					: packWeights(to, depth, (column, k) => filters[column * depth + k]!);
			const rowFloats = (bands + 2) * from + (from === 1 ? 2 : 0);
			this.#stages.push({
				layer, bands, rowFloats,
				input: this.#kernel.reserve((rows + 2) * rowFloats),
				raw: layer.pool ? this.#kernel.reserve(rows * bands * to) : 0,
				weights: place(packed), bias: place(Float32Array.from(bias)), kept: 0
			});
			if (layer.pool) [rows, bands] = [rows / layer.pool[0], Math.max(1, Math.floor(bands / layer.pool[1]))];
		}
		this.#result = this.#kernel.reserve(rows * EMBEDDING_SIZE);
	}

	/** Forgets what was heard. The first nine steps after this give nothing: the network has not yet a full view. */
	reset(): void {
		this.#pendingRows = 0;
		this.#due = this.#rows - STEP_ROWS / 2;
		for (const stage of this.#stages) stage.kept = 0;
	}

	/** Adds one mel row (copied); calls `take` with each new embedding, a view that the next call overwrites. */
	push(melRow: Float32Array, take: (embedding: Float32Array) => void): void {
		this.#pending.set(melRow, this.#pendingRows * BANDS);
		if (++this.#pendingRows < this.#due) return;
		// the network's view is 76 rows, 9 steps and a half: a first half step keeps every pooled pair within one call
		const count = this.#run(this.#due);
		this.#pendingRows = 0;
		this.#due = this.#rows;
		for (let i = 0; i < count; i++) take(this.#kernel.view(this.#result + i * EMBEDDING_SIZE * 4, EMBEDDING_SIZE));
	}

	#run(rows: number): number {
		const memory = new Float32Array(this.#kernel.memory.buffer);
		const first = this.#stages[0]!;
		for (let row = 0; row < rows; row++) {
			const to = first.input / 4 + (first.kept + row) * first.rowFloats + 1;
			memory.set(this.#pending.subarray(row * BANDS, (row + 1) * BANDS), to);
		}
		let count = rows;
		for (const [index, stage] of this.#stages.entries()) {
			const next = this.#stages[index + 1];
			const { layer } = stage;
			// where the next layer reads: past what it keeps, and past the band of zeros
			const onward = next ? next.input / 4 + next.kept * next.rowFloats + layer.to : this.#result / 4;
			const stride = next ? next.rowFloats : layer.to;
			if (layer.pool) {
				count = this.#convolve(memory, stage, count, stage.raw / 4, stage.bands * layer.to);
				count = pool(memory, stage, count, onward, stride);
			} else count = this.#convolve(memory, stage, count, onward, stride);
			if (count === 0) break;
		}
		return count;
	}

	/** Computes the rows that `count` new input rows allow, to `output` and `stride` floats on; keeps the last two; returns how many. */
	#convolve(memory: Float32Array, stage: Stage, count: number, output: number, stride: number): number {
		const { layer, bands, rowFloats, input } = stage;
		const have = stage.kept + count;
		const made = Math.max(0, have - layer.time + 1);
		const first = input + (layer.bands === 1 ? layer.from * 4 : 0);
		for (let row = 0; row < made; row++) {
			this.#kernel.multiply({
				input: first + row * rowFloats * 4, output: (output + row * stride) * 4,
				weights: stage.weights, bias: stage.bias, rows: bands, inputStride: layer.from * 4, outputStride: layer.to * 4,
				taps: layer.time, tapStride: rowFloats * 4, depth: layer.from === 1 ? 4 : layer.bands * layer.from, width: layer.to,
				slope: layer.plain ? 1 : SLOPE, least: layer.plain ? -Infinity : LEAST
			});
		}
		stage.kept = Math.min(have, layer.time - 1);
		const start = input / 4;
		memory.copyWithin(start, start + (have - stage.kept) * rowFloats, start + have * rowFloats);
		return made;
	}
}
