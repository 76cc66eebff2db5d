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

/** Mean vector of 20 minutes of read talk (LibriSpeech, see static/voice/NOTICE.md): what all speech has in common tells nothing apart. */
const COMMON = [
	-10.2, 14.3, 4.6, 3.5, 4.2, 25.1, 9.9, -2.2, 10.6, 18.5, -14.8, -5.2, 7.4, -4.7, -3.7, 5.9, 2.9, -6.1, 4.3, -5.8, 5.8, 17.5, -10.9, 2.6,
	-3.7, 9.5, -19.4, 5.3, 10.1, 5.3, -18.8, 11.2, -24.3, -3.9, -4.8, 7.4, 24.7, 22.3, 1.7, 23.6, -4, 4.3, 47.6, -17.9, -6.8, -6, -13.1, 6.9,
	15.7, 2, -14.4, 8.4, 7.1, -11.2, -12.9, -14.9, -6.8, 27.4, -17, -6.5, 3.9, 10.1, 1.4, -5.3, 23.3, 12.1, -4.9, -7.1, -7.9, -6.7, -1, 16.1,
	2.3, -13.7, 20, 0.1, -4.6, -9.6, -22.5, -30.3, 7.7, 18.5, 16.7, -7.2, 13.8, 6.8, 4.3, -6.3, -2.4, 30.6, -0.7, 17, 19.3, -21.6, 6.2, 17.6
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
