/** The parts of the recogniser, each replaceable behind its interface: features, head, decoder. */

/** Samples at 16 kHz of one step: 80 ms. */
export const STEP_SAMPLES = 1280;

/** Turns sound into vectors, one each 80 ms. */
export interface Features {
	/** Numbers in a vector. */
	readonly size: number;
	/** Adds samples at 16 kHz, −1 to 1; `take` gets each new vector, which it may not keep. */
	push(samples: Float32Array, take: (vector: Float32Array) => void): void;
	/** Forgets what was heard: as after a long silence. */
	reset(): void;
}

/** Turns feature vectors into how probable each word is to end about now. */
export interface Head {
	/** The vocabulary, in the order of the scores. */
	readonly words: readonly string[];
	/** Natural logarithms of probabilities: the words', then "no word"'s. */
	step(vector: Float32Array): Float32Array;
	reset(): void;
}

/** One step of 80 ms as it was heard: views that the next step overwrites. */
export interface Heard {
	readonly vector: Float32Array;
	/** Natural logarithms of probabilities: the words', then "no word"'s. */
	readonly logProbabilities: Float32Array;
}

/** Sound in, steps out. */
export interface Hears {
	/** Adds samples at 16 kHz, −1 to 1; `take` gets each new step. */
	push(samples: Float32Array, take: (heard: Heard) => void): void;
	/** Forgets what was heard: as after a long silence. */
	reset(): void;
}

/** A word decided on. */
export interface Decision {
	readonly word: string;
	/** Calibrated: of decisions at 0.9, nine in ten are right. */
	readonly confidence: number;
	/** Steps of 80 ms from the start (or the last reset) to the decision. */
	readonly step: number;
	/** What else it may have been, likeliest first, with the word itself. */
	readonly alternatives: readonly { readonly word: string; readonly confidence: number }[];
}
