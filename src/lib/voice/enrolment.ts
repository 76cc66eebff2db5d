/**
 * What one operator's words look like: takes of each word as vectors of the head's hidden layer, never as sound. A spike is compared
 * with all takes; the nearest word wins where it is near enough (nearest prototype: J. Snell, K. Swersky, R. Zemel, "Prototypical
 * networks for few-shot learning", NeurIPS 2017).
 */

export interface Enrolment {
	readonly version: 1;
	/** SHA-256 of the head that the vectors come from: those of another head mean nothing. */
	readonly head: string;
	readonly words: readonly EnrolledWord[];
	/** Only what this operator says counts: a spike far from all takes does nothing. */
	readonly onlyThisOperator: boolean;
}

export interface EnrolledWord {
	/** The vocabulary's word that it stands for. */
	readonly word: string;
	readonly takes: readonly (readonly number[])[];
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
	/** Cosine of the angle to the nearest take's word: 1 is the same. */
	readonly nearness: number;
	/** By how much it is nearer than the second word. */
	readonly lead: number;
}

/** Compares vectors with an operator's takes. */
export class Prototypes {
	readonly #means: { readonly word: string; readonly mean: Float64Array }[];

	constructor(words: readonly EnrolledWord[]) {
		this.#means = words.filter(({ takes }) => takes.length > 0).map(({ word, takes }) => {
			const units = takes.map(unit);
			return { word, mean: unit(units[0]!.map((_, i) => units.reduce((sum, one) => sum + one[i]!, 0))) };
		});
	}

	/** The nearest of the words that are open, or undefined where none of them is enrolled. */
	nearest(hidden: ArrayLike<number>, open: ReadonlySet<string>): Nearest | undefined {
		const here = unit(hidden);
		const ranked = this.#means.filter(({ word }) => open.has(word)).map(({ word, mean }) => ({ word, nearness: dot(here, mean) })).sort((a, b) => b.nearness - a.nearness);
		const [first, second] = ranked;
		return first && { ...first, lead: first.nearness - (second?.nearness ?? 0) };
	}
}

/** Reads an exported enrolment. Throws a sentence where it is none. */
export function readEnrolment(text: string, head: string): Enrolment {
	const found = JSON.parse(text) as Partial<Enrolment>;
	if (found.version !== 1 || !Array.isArray(found.words)) throw new Error('this file is no enrolment: expected version 1 and a list of words');
	if (found.head !== head) throw new Error('this enrolment was made with another version of the recogniser: its takes must be given again');
	for (const { word, takes } of found.words)
		if (typeof word !== 'string' || !Array.isArray(takes) || takes.some((take) => !Array.isArray(take) || take.some((x) => !Number.isFinite(x))))
			throw new Error(`this enrolment is damaged at the word ${String(word)}: expected takes as lists of numbers`);
	return { version: 1, head, words: found.words, onlyThisOperator: found.onlyThisOperator === true };
}
