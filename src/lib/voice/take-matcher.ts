/**
 * Finds an operator's own words in the stream: each new vector is compared with those of every take, and the best path that ends now is
 * found by dynamic time warping over all beginnings (H. Sakoe, S. Chiba, "Dynamic programming algorithm optimization for spoken word
 * recognition", IEEE Trans. ASSP 26, 1978: symmetric weights, cost divided by both lengths).
 */
import type { EnrolledWord } from './enrolment';
import { EMBEDDING_SIZE } from './features/embedding';

export interface Match {
	readonly word: string;
	/** Mean of 1 − cosine along the path, over the word's takes: 0 is the same. */
	readonly distance: number;
}

/** A word may be said this much faster or slower than its take. */
const FASTEST = 0.6;
const SLOWEST = 1.6;

/** Mean vector of 24 minutes of read talk (LibriSpeech, LJ Speech, see static/voice/NOTICE.md): what all speech has in common tells nothing apart. */
const COMMON = [
	-9.2, 16.3, 4.8, 4.7, 5.6, 28.8, 11.8, -8.6, 3.5, 20.3, -17.5, -6.3, 10.3, -3.9, -7.4, 3.8, 4.9, -2.1, 8.4, -4, 4.1, 15.7, -7, 2.8,
	-3.8, 14, -19.5, -2.7, 6.9, 10.4, -22.9, 12, -28.9, -1.5, -6.8, 8.9, 26.7, 22.9, 0.3, 26.9, -2.1, 2.3, 44, -14.5, -8.1, -10.3, -13.8, 6,
	15.5, 2.1, -15.2, 7, 11.3, -13.5, -11.6, -12.8, -1, 27.9, -18.9, -8.8, 7.3, 12.5, 4.3, -9.3, 22.1, 12.8, -3.4, -9.3, -11.1, -6.2, 1.3, 9.9,
	2.3, -12.3, 18.7, 7.4, -0.9, -7.3, -28.6, -29.7, 5, 19.5, 18.5, -7.5, 17.2, 0.8, 11.2, -7.7, -1.6, 37, 0.9, 28.8, 21.9, -20.7, 3.9, 20.7
] as const;

/** The vectors of a take, or of a step, without what is common to all, each of length 1. */
export function vectorsOf(numbers: ArrayLike<number>): Float32Array[] {
	return Array.from({ length: Math.floor(numbers.length / EMBEDDING_SIZE) }, (_, i) => {
		const vector = Float32Array.from(COMMON, (common, k) => numbers[i * EMBEDDING_SIZE + k]! - common);
		const length = Math.sqrt(vector.reduce((sum, x) => sum + x * x, 0)) || 1;
		return vector.map((x) => x / length);
	});
}

function cost(a: Float32Array, b: Float32Array): number {
	let dot = 0;
	for (let i = 0; i < a.length; i++) dot += a[i]! * b[i]!;
	return 1 - dot;
}

interface Template {
	readonly vectors: readonly Float32Array[];
	/** Costs of the last steps against every vector, newest first. */
	readonly costs: Float32Array[];
	readonly reach: number;
}

/** One word, in one way of hearing its takes. */
interface Side {
	readonly word: string;
	readonly templates: readonly Template[];
}

const template = (numbers: ArrayLike<number>): Template => {
	const vectors = vectorsOf(numbers);
	return { vectors, costs: [], reach: Math.ceil(vectors.length * SLOWEST) };
};

export class TakeMatcher {
	readonly #sides: readonly Side[];

	constructor(words: readonly EnrolledWord[]) {
		this.#sides = words.filter(({ takes }) => takes.length > 0).flatMap(({ word, takes }) => [
			{ word, templates: takes.map(({ clean }) => template(clean)) },
			{ word, templates: takes.map(({ noisy }) => template(noisy)) }
		]);
	}

	/** Nothing heard before now counts. */
	reset(): void {
		for (const { templates } of this.#sides) for (const { costs } of templates) costs.length = 0;
	}

	/** One step's vector; returns each word once, nearest first, by how near what ends now is to it. */
	step(vector: ArrayLike<number>): Match[] {
		const here = vectorsOf(vector)[0]!;
		const nearest = new Map<string, number>();
		for (const { word, templates } of this.#sides) {
			const distance = templates.reduce((sum, one) => sum + next(one, here), 0) / templates.length;
			nearest.set(word, Math.min(nearest.get(word) ?? Infinity, distance));
		}
		return [...nearest].map(([word, distance]) => ({ word, distance })).sort((a, b) => a.distance - b.distance);
	}
}

function next(one: Template, here: Float32Array): number {
	one.costs.unshift(Float32Array.from(one.vectors, (vector) => cost(vector, here)));
	if (one.costs.length > one.reach) one.costs.pop();
	return endingNow(one.costs, one.vectors.length);
}

/**
 * Costs of the cheapest paths through a whole take of `length` vectors that end at the newest step, by the number of steps that they
 * take in (from one); `costs`: a row for each step, newest first.
 */
function paths(costs: readonly Float32Array[], length: number): number[] {
	let before = new Float32Array(length + 1).fill(Infinity);
	let now = new Float32Array(length + 1);
	before[0] = 0;
	return costs.map((row, back) => {
		now[0] = Infinity;
		for (let j = 1; j <= length; j++) {
			const c = row[length - j]!;
			now[j] = Math.min(before[j - 1]! + 2 * c, before[j]! + c, now[j - 1]! + c);
		}
		[before, now] = [now, before];
		return before[length]! / (back + 1 + length);
	});
}

/** Infinite while too little was heard. */
function endingNow(costs: readonly Float32Array[], length: number): number {
	const least = Math.max(1, Math.round(length * FASTEST));
	return paths(costs, length).slice(least - 1).reduce((a, b) => Math.min(a, b), Infinity);
}

/** Distance of two takes from one another, whole against whole. */
export function takeDistance(a: ArrayLike<number>, b: ArrayLike<number>): number {
	const [one, other] = [vectorsOf(a), vectorsOf(b)];
	const costs = other.map((vector) => Float32Array.from(one, (mine) => cost(mine, vector))).reverse();
	return paths(costs, one.length).at(-1) ?? Infinity;
}
