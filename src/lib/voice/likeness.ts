/** Whether takes can be told apart: from silence, from one another, and from the words that may be said at the same time. */
import { type EnrolledWord, type Take, TAKES } from './enrolment';
import { NEARNESS } from './own-words';
import type { Features } from './stages';
import { takeOf } from './take';
import { takeDistance } from './take-matcher';

/** Nearer to silence than this is a knock, a tone or a hiss (measured 0.05 to 0.11), no word (63 words of as many recordings: from 0.19). */
const FROM_SILENCE = 0.16;
/** Farther from the other takes than this is another word, or another way of saying it (108 pairs of one word: up to 0.27; 720 of two: from 0.26, one in twenty below 0.36). */
const SAME_WORD = 0.3;
/** Nearer than this two words are taken for one another too often: how near a take may come and still be told. */
const TOLD_APART = NEARNESS.sure;

/** Says of a take that it is no word: it lies nearer to silence than words do. */
export function silenceCheck(features: Features): (take: Take) => boolean {
	const silent = takeOf(features, new Float32Array(48000), { from: 20000, to: 28000 }).clean;
	return ({ clean }) => takeDistance(clean, silent) < FROM_SILENCE;
}

/** Whether a take is the same word as those before it. */
export const isLike = (take: Take, before: readonly Take[]): boolean =>
	before.length === 0 || before.some(({ clean }) => takeDistance(take.clean, clean) < SAME_WORD);

const nearness = (a: EnrolledWord, b: EnrolledWord): number => {
	const distances = a.takes.flatMap((one) => b.takes.map((other) => takeDistance(one.clean, other.clean)));
	return distances.reduce((sum, x) => sum + x, 0) / distances.length;
};

/** How far a word's own takes lie from one another, on average. */
export function spread({ takes }: EnrolledWord): number {
	const distances = takes.flatMap((one, i) => takes.slice(i + 1).map((other) => takeDistance(one.clean, other.clean)));
	return distances.length ? distances.reduce((sum, x) => sum + x, 0) / distances.length : 0;
}

/**
 * Words that are too much like `word` to be told apart from it: another word must lie farther from it than its own takes lie from one
 * another, and farther than what is told as the same word.
 */
export function tooAlike(word: EnrolledWord, others: readonly EnrolledWord[]): EnrolledWord[] {
	if (word.takes.length < TAKES) return [];
	return others.filter((other) => other.word !== word.word && other.takes.length > 0 && nearness(word, other) < Math.max(TOLD_APART, spread(word), spread(other)));
}
