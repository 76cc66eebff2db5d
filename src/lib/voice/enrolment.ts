/**
 * What one operator's words look like: takes of each word as vectors of the head's hidden layer, never as sound. A spike is compared
 * with each enrolled word's mean take; the nearest wins (J. Snell, K. Swersky, R. Zemel, "Prototypical networks for few-shot
 * learning", NeurIPS 2017).
 */

export interface EnrolledWord {
	/** The vocabulary's word that it stands for. */
	readonly word: string;
	readonly takes: readonly ArrayLike<number>[];
}

/** Takes of a word that make it known. */
export const TAKES = 3;

function unit(vector: ArrayLike<number>): Float64Array {
	const length = Math.sqrt(Array.from(vector).reduce((sum, x) => sum + x * x, 0));
	return Float64Array.from(vector, (x) => x / (length || 1));
}

const dot = (a: Float64Array, b: Float64Array) => a.reduce((sum, x, i) => sum + x * b[i]!, 0);

export interface Nearest {
	readonly word: string;
	/** Cosine of the angle to the word's mean take: 1 is the same. */
	readonly nearness: number;
}

/** Compares vectors with an operator's takes. */
export class Prototypes {
	readonly #means: readonly { readonly word: string; readonly mean: Float64Array }[];

	constructor(words: readonly EnrolledWord[]) {
		this.#means = words.filter(({ takes }) => takes.length > 0).map(({ word, takes }) => {
			const units = takes.map(unit);
			return { word, mean: unit(units[0]!.map((_, i) => units.reduce((sum, one) => sum + one[i]!, 0))) };
		});
	}

	has(word: string): boolean {
		return this.#means.some((one) => one.word === word);
	}

	/** Enrolled words that are open, nearest first. */
	ranked(hidden: ArrayLike<number>, open: ReadonlySet<string>): Nearest[] {
		const here = unit(hidden);
		return this.#means
			.filter(({ word }) => open.has(word))
			.map(({ word, mean }) => ({ word, nearness: dot(here, mean) }))
			.sort((a, b) => b.nearness - a.nearness);
	}
}
