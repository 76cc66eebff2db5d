/** Paired difference between two models on the same queries, with a bootstrap interval over clusters (runs, or operators). */
import { seededDraws } from '../draws';
import { quantileOfSorted } from '../quantile';
import type { ScoredQuery } from './score';

export interface PairedDifference {
	/** Mean loss of the first minus the second, over queries, in minutes: below zero, the first is better. */
	readonly differenceMin: number;
	/** 95 % percentile interval: B. Efron, R. J. Tibshirani, An Introduction to the Bootstrap (1993), ch. 13. */
	readonly intervalMin: readonly [number, number];
	readonly clusters: number;
}

const RESAMPLES = 4000;

/**
 * Clusters are drawn with replacement and keep all their queries.
 * @throws RangeError where the two do not answer the same queries in the same order
 */
export function pairedDifference(
	first: readonly ScoredQuery[],
	second: readonly ScoredQuery[],
	lossS: (query: ScoredQuery) => number,
	clusterOf: (query: ScoredQuery) => string,
	seed: number
): PairedDifference {
	if (first.length !== second.length || first.length === 0)
		throw new RangeError(
			`paired difference: expected as many queries of both, at least one; got ${first.length} and ${second.length}`
		);
	const clusters = new Map<string, { sum: number; count: number }>();
	first.forEach((query, index) => {
		const other = second[index] as ScoredQuery;
		if (other.runId !== query.runId || other.elapsedS !== query.elapsedS)
			throw new RangeError(`paired difference: query ${index} is of run "${query.runId}" and of run "${other.runId}"`);
		const cluster = clusters.get(clusterOf(query)) ?? { sum: 0, count: 0 };
		cluster.sum += (lossS(query) - lossS(other)) / 60;
		cluster.count += 1;
		clusters.set(clusterOf(query), cluster);
	});
	const all = [...clusters.values()];
	const draws = seededDraws(seed);
	const means = Float64Array.from({ length: RESAMPLES }, () => {
		let sum = 0;
		let count = 0;
		for (let drawn = 0; drawn < all.length; drawn++) {
			const cluster = all[Math.floor(draws.uniform() * all.length)] as (typeof all)[number];
			sum += cluster.sum;
			count += cluster.count;
		}
		return sum / count;
	}).sort();
	return {
		differenceMin: all.reduce((sum, each) => sum + each.sum, 0) / first.length,
		intervalMin: [quantileOfSorted(means, 0.025), quantileOfSorted(means, 0.975)],
		clusters: all.length
	};
}
