/** How steady somebody's times are, and how they stand to the group's. */
import type { NotEnough } from './learning';
import { seededDraws } from './draws';
import { quantileOfSorted } from './quantile';

export interface Steadiness {
	/** Standard deviation of ln time: 0.1 is "within about 10 %". */
	readonly spread: number;
	/** 90 % interval of the spread, by bootstrap. */
	readonly interval: readonly [number, number];
	readonly count: number;
}

export interface AgainstGroup {
	/** Median of own times over median of the group's. */
	readonly ratio: number;
	/** 90 % bootstrap interval of the ratio. */
	readonly interval: readonly [number, number];
	/** "slower" and "faster" are only said where the interval leaves out 1. */
	readonly verdict: 'slower' | 'faster' | 'no difference to be seen';
	/** The rule in words, to be shown beside the verdict. */
	readonly rule: string;
	readonly ownCount: number;
	readonly groupCount: number;
}

export const FEWEST_FOR_SPREAD = 5;
const FEWEST_OF_GROUP = 5;
const RESAMPLES = 1000;

/** Spread of ln durations of the same step or stage. */
export function steadiness(timesMs: readonly number[], seed = 1): Steadiness | NotEnough {
	const logs = logsOf(timesMs);
	if (logs.length < FEWEST_FOR_SPREAD) return { notEnough: true, have: logs.length, need: FEWEST_FOR_SPREAD };
	const draws = seededDraws(seed);
	const spreads = Float64Array.from({ length: RESAMPLES }, () =>
		standardDeviation(resampled(logs, draws.uniform))
	).sort();
	return {
		spread: standardDeviation(logs),
		interval: [quantileOfSorted(spreads, 0.05), quantileOfSorted(spreads, 0.95)],
		count: logs.length
	};
}

/** Own times beside those of the others in the group. One ratio a step or stage: people are not ranked by it. */
export function againstGroup(ownMs: readonly number[], groupMs: readonly number[], seed = 1): AgainstGroup | NotEnough {
	const own = logsOf(ownMs);
	const group = logsOf(groupMs);
	if (own.length < FEWEST_FOR_SPREAD) return { notEnough: true, have: own.length, need: FEWEST_FOR_SPREAD };
	if (group.length < FEWEST_OF_GROUP) return { notEnough: true, have: group.length, need: FEWEST_OF_GROUP };
	const draws = seededDraws(seed);
	const ratios = Float64Array.from({ length: RESAMPLES }, () =>
		Math.exp(median(resampled(own, draws.uniform)) - median(resampled(group, draws.uniform)))
	).sort();
	const interval = [quantileOfSorted(ratios, 0.05), quantileOfSorted(ratios, 0.95)] as const;
	return {
		ratio: Math.exp(median(own) - median(group)),
		interval,
		verdict: interval[0] > 1 ? 'slower' : interval[1] < 1 ? 'faster' : 'no difference to be seen',
		rule: 'Slower or faster is said where the 90 % interval of the ratio of medians, by bootstrap, leaves out 1.',
		ownCount: own.length,
		groupCount: group.length
	};
}

function logsOf(timesMs: readonly number[]): number[] {
	for (const time of timesMs) if (!(time > 0)) throw new RangeError(`times: expected all above 0 ms, got ${time}`);
	return timesMs.map(Math.log);
}

const median = (values: readonly number[]): number =>
	quantileOfSorted(
		[...values].sort((a, b) => a - b),
		0.5
	);

/** Sample standard deviation, in two passes. */
export function standardDeviation(values: readonly number[]): number {
	if (values.length < 2) throw new RangeError(`standard deviation: expected at least 2 values, got ${values.length}`);
	const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
	return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}

/** Correlation of each value with the one before it, about the common mean. */
export function lagOneCorrelation(values: readonly number[]): number {
	const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
	const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
	const products = values
		.slice(1)
		.reduce((sum, value, index) => sum + (value - mean) * ((values[index] as number) - mean), 0);
	return products / squares;
}

const resampled = (values: readonly number[], uniform: () => number): number[] =>
	values.map(() => values[Math.floor(uniform() * values.length)] as number);
