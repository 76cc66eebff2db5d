/**
 * Hears everything twice, the second time half a step later, and takes the mean of what the head makes of it: the network looks once in
 * 80 ms, and a word that falls badly between two looks is caught by the other one.
 */
import { EmbeddingStream, STEP_ROWS } from './features/embedding';
import { MelStream, SILENT_ROW } from './features/mel';
import { ROWS_BEFORE } from './features/speech-features';
import { HeadNetwork } from './head-network';
import type { EarsModel } from './model';
import type { Heard, Hears } from './stages';

/** One look at the same rows: network and head, each of its own memory. */
class Look {
	readonly #embedding: EmbeddingStream;
	readonly #head: HeadNetwork;

	constructor({ words, embedding, head }: Pick<EarsModel, 'words' | 'embedding' | 'head'>) {
		this.#embedding = new EmbeddingStream(embedding);
		this.#head = new HeadNetwork(words, head);
	}

	/** Begins after so many rows of silence, too few for a step. */
	reset(rows: number): void {
		this.#embedding.reset();
		this.#head.reset();
		for (let i = 0; i < rows; i++) this.#embedding.push(SILENT_ROW, () => undefined);
	}

	push(row: Float32Array, take: (heard: Heard) => void): void {
		this.#embedding.push(row, (vector) => take({ vector, logProbabilities: this.#head.step(vector) }));
	}
}

export class DoubleHearing implements Hears {
	#mel = new MelStream();
	readonly #now: Look;
	readonly #later: Look;
	/** What the later look, delayed by half a step, made of the step that the first has yet to reach. */
	#ahead: Float32Array | null = null;

	constructor(model: Pick<EarsModel, 'words' | 'embedding' | 'head'>) {
		this.#now = new Look(model);
		this.#later = new Look(model);
		this.reset();
	}

	reset(): void {
		this.#mel = new MelStream();
		this.#now.reset(ROWS_BEFORE);
		this.#later.reset(ROWS_BEFORE + STEP_ROWS / 2);
		this.#ahead = null;
	}

	push(samples: Float32Array, take: (heard: Heard) => void): void {
		this.#mel.push(samples, (row) => {
			this.#later.push(row, ({ logProbabilities }) => (this.#ahead = logProbabilities));
			this.#now.push(row, ({ vector, logProbabilities }) => take({ vector, logProbabilities: mean(logProbabilities, this.#ahead!) }));
		});
	}
}

/** Logarithm of the mean of two probabilities, class by class. */
function mean(a: Float32Array, b: Float32Array): Float32Array {
	return a.map((x, i) => {
		const [more, less] = x > b[i]! ? [x, b[i]!] : [b[i]!, x];
		return more + Math.log1p(Math.exp(less - more)) - Math.LN2;
	});
}
