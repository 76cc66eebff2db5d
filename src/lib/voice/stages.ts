/** The parts of the recogniser, each replaceable behind its interface: features, head, decoder. */

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
	/** Natural logarithms of probabilities: the words', then "no word"'s; and the hidden layer that they were made from. */
	step(vector: Float32Array): HeadOutput;
	reset(): void;
}

/** Views that the next step overwrites. */
export interface HeadOutput {
	readonly logProbabilities: Float32Array;
	readonly hidden: Float32Array;
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
