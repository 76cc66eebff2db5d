/** The features in use: log mel rows, then the speech embedding; one vector each 80 ms from the first 80 ms on. */
import type { Features } from '../stages';
import { EMBEDDING_SIZE, EmbeddingStream } from './embedding';
import { HOP_SAMPLES, MelStream } from './mel';

/** Rows of silence given before the first sample: with the first step's 8 they fill the network's view of 76. */
export const ROWS_BEFORE = 68;

export class SpeechFeatures implements Features {
	readonly size = EMBEDDING_SIZE;
	#mel = new MelStream();
	readonly #embedding: EmbeddingStream;

	/** `weights`: the embedding network's (EMBEDDING_WEIGHTS numbers). */
	constructor(weights: Float32Array) {
		this.#embedding = new EmbeddingStream(weights);
		this.reset();
	}

	push(samples: Float32Array, take: (vector: Float32Array) => void): void {
		this.#mel.push(samples, (row) => this.#embedding.push(row, take));
	}

	reset(): void {
		this.#mel = new MelStream();
		this.#embedding.reset();
		this.push(new Float32Array(ROWS_BEFORE * HOP_SAMPLES), () => {
			throw new Error('a feature vector before the first sample');
		});
	}
}
