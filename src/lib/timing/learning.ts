/**
 * Curves of practice. T_n is the time of the n-th repetition, T_1 that of the first, b ≥ 0 how steep: an "s per cent curve" has
 * b = −log₂(s/100), so that each doubling of n multiplies the time by s/100.
 *   unit theory (J. R. Crawford, 1944, from memory):         T_n = T_1·n^(−b)
 *   cumulative-average theory (T. P. Wright, 1936, from memory): mean of the first n times = T_1·n^(−b),
 *                                                                 so T_n = T_1·(n^(1−b) − (n−1)^(1−b))
 */

export type PracticeTheory = 'unit' | 'cumulative average';

/** Exponent b of a curve on which each doubling leaves the share `slope` of the time (0 < slope). */
export function exponentOfSlope(slope: number): number {
	if (!(slope > 0)) throw new RangeError(`slope of a practice curve: expected a share above 0, got ${slope}`);
	return -Math.log2(slope);
}

/** Share of the time left after each doubling. */
export const slopeOfExponent = (exponent: number): number => 2 ** -exponent;

/** Time of the n-th repetition, in the unit of `first`. */
export function timeOfUnit(theory: PracticeTheory, first: number, exponent: number, n: number): number {
	requireCount(n);
	if (theory === 'unit') return first * n ** -exponent;
	return first * (n ** (1 - exponent) - (n - 1) ** (1 - exponent));
}

/** Time of the first n repetitions together. */
export function timeOfFirst(theory: PracticeTheory, first: number, exponent: number, n: number): number {
	requireCount(n);
	if (theory === 'cumulative average') return first * n ** (1 - exponent);
	let sum = 0;
	for (let unit = 1; unit <= n; unit++) sum += first * unit ** -exponent;
	return sum;
}

function requireCount(n: number): void {
	if (!Number.isInteger(n) || n < 1)
		throw new RangeError(`repetition of a practice curve: expected a whole number from 1, got ${n}`);
}

export interface PracticeFit {
	readonly theory: PracticeTheory;
	/** Time of the first repetition on the curve, ms. */
	readonly firstMs: number;
	readonly exponent: number;
	/** Standard error of the exponent. */
	readonly exponentSe: number;
	/** Residual standard deviation of ln time about the curve (of ln cumulative average in that theory). */
	readonly spread: number;
	readonly count: number;
}

/** What cannot be told from so few runs is not told. */
export interface NotEnough {
	readonly notEnough: true;
	readonly have: number;
	readonly need: number;
}

/** Three points leave one degree of freedom for the spread; with fewer than five its error is as large as the slope itself. */
export const FEWEST_FOR_CURVE = 5;

/**
 * Least squares of ln time on ln n (unit theory), or of ln cumulative average on ln n. Times in the order of the runs, all above 0.
 * Cumulative averages hang together from run to run, so that their standard error is too small; the unit theory's is sound.
 * @throws RangeError on a time that is not above 0
 */
export function fitPractice(timesMs: readonly number[], theory: PracticeTheory): PracticeFit | NotEnough {
	for (const time of timesMs)
		if (!(time > 0)) throw new RangeError(`practice curve: expected times above 0 ms, got ${time}`);
	if (timesMs.length < FEWEST_FOR_CURVE) return { notEnough: true, have: timesMs.length, need: FEWEST_FOR_CURVE };
	let sum = 0;
	const points = timesMs.map((time, index): readonly [number, number] => {
		sum += time;
		return [Math.log(index + 1), Math.log(theory === 'unit' ? time : sum / (index + 1))];
	});
	const count = points.length;
	const meanX = points.reduce((all, [x]) => all + x, 0) / count;
	const meanY = points.reduce((all, [, y]) => all + y, 0) / count;
	const sxx = points.reduce((all, [x]) => all + (x - meanX) ** 2, 0);
	const sxy = points.reduce((all, [x, y]) => all + (x - meanX) * (y - meanY), 0);
	const slope = sxy / sxx;
	const squares = points.reduce((all, [x, y]) => all + (y - meanY - slope * (x - meanX)) ** 2, 0);
	const spread = Math.sqrt(squares / (count - 2));
	return {
		theory,
		firstMs: Math.exp(meanY - slope * meanX),
		exponent: -slope,
		exponentSe: spread / Math.sqrt(sxx),
		spread,
		count
	};
}
