/** The trained head, run step by step on the ears' kernel. Its shape: head-shape.ts. */
import { createKernel, packWeights, type Kernel } from './features/kernel';
import { headLayers, headNumbers, HIDDEN, HIDDEN_SPAN, SPAN } from './head-shape';
import { EMBEDDING_SIZE } from './features/embedding';
import type { Head } from './stages';

interface Placed {
	readonly weights: number;
	readonly bias: number;
	readonly depth: number;
	readonly width: number;
}

export class HeadNetwork implements Head {
	readonly #kernel: Kernel = createKernel();
	readonly #layers: readonly Placed[];
	readonly #seen: number;
	readonly #hiddenSeen: number;
	readonly #deep: number;
	readonly #logits: number;
	#fresh = true;

	/** `numbers`: headNumbers(words.length) of them, each layer's weights as [depth][width], then its biases. */
	constructor(readonly words: readonly string[], numbers: Float32Array) {
		const expected = headNumbers(words.length);
		if (numbers.length !== expected) throw new Error(`head: ${numbers.length} numbers for ${words.length} words, expected ${expected}`);
		const place = (values: Float32Array) => {
			const address = this.#kernel.reserve(values.length);
			this.#kernel.view(address, values.length).set(values);
			return address;
		};
		let at = 0;
		this.#layers = headLayers(words.length).map(({ depth, width }) => {
			const weights = numbers.subarray(at, at + depth * width);
			const bias = numbers.slice(at + depth * width, at + (depth + 1) * width);
			at += (depth + 1) * width;
			return { weights: place(packWeights(width, depth, (c, k) => weights[k * width + c]!)), bias: place(bias), depth, width };
		});
		this.#seen = this.#kernel.reserve(SPAN * EMBEDDING_SIZE);
		this.#hiddenSeen = this.#kernel.reserve(HIDDEN_SPAN * HIDDEN);
		this.#deep = this.#kernel.reserve(HIDDEN);
		this.#logits = this.#kernel.reserve(this.#layers[2]!.width);
	}

	reset(): void {
		this.#fresh = true;
	}

	step(vector: Float32Array): Float32Array {
		this.#remember(this.#seen, SPAN, vector);
		this.#layer(0, this.#seen, this.#deep);
		this.#remember(this.#hiddenSeen, HIDDEN_SPAN, this.#kernel.view(this.#deep, HIDDEN).slice());
		this.#layer(1, this.#hiddenSeen, this.#deep);
		this.#layer(2, this.#deep, this.#logits);
		this.#fresh = false;
		return logSoftmax(this.#kernel.view(this.#logits, this.words.length + 1));
	}

	#layer(index: number, input: number, output: number): void {
		const { weights, bias, depth, width } = this.#layers[index]!;
		this.#kernel.multiply({
			input, output, weights, bias, rows: 1, inputStride: depth * 4, outputStride: width * 4, taps: 1, tapStride: 0, depth, width,
			slope: index === 2 ? 1 : 0, least: -Infinity
		});
	}

	/** Shifts the last rows on by one; the first row after a reset stands for all before it. */
	#remember(address: number, span: number, row: Float32Array): void {
		const memory = this.#kernel.view(address, span * row.length);
		if (this.#fresh) for (let k = 0; k < span - 1; k++) memory.set(row, k * row.length);
		else memory.copyWithin(0, row.length);
		memory.set(row, (span - 1) * row.length);
	}
}

function logSoftmax(logits: Float32Array): Float32Array {
	const most = logits.reduce((a, b) => Math.max(a, b), -Infinity);
	const norm = most + Math.log(logits.reduce((sum, x) => sum + Math.exp(x - most), 0));
	return logits.map((x) => x - norm);
}
