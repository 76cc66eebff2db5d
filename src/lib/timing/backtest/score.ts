/** Scores of predicted against true time left: absolute error of the median, pinball loss, coverage of P10–P90. */
import type { PredictedS } from './model';

export interface ScoredQuery extends PredictedS {
	readonly runId: string;
	readonly operator: string;
	readonly elapsedS: number;
	readonly leftS: number;
}

export interface Scores {
	readonly queries: number;
	readonly maeMin: number;
	/** Mean over P10, P50, P90. */
	readonly pinballMin: number;
	readonly pinballByLevelMin: readonly [number, number, number];
	/** Share of queries whose truth lies within P10–P90. */
	readonly coverage: number;
}

/** Pinball loss of a predicted quantile at `level`: R. Koenker, G. Bassett, Regression quantiles, Econometrica 46 (1978) 33–50. */
export const pinball = (level: number, truth: number, predicted: number): number =>
	Math.max(level * (truth - predicted), (level - 1) * (truth - predicted));

/** Mean of the three pinball losses of one query, in seconds. */
export const meanPinball = (query: ScoredQuery): number =>
	(pinball(0.1, query.leftS, query.p10S) +
		pinball(0.5, query.leftS, query.p50S) +
		pinball(0.9, query.leftS, query.p90S)) /
	3;

export const absoluteError = (query: ScoredQuery): number => Math.abs(query.leftS - query.p50S);

/** A moment to a tenth of a second, halves to even, as the data's score.py keys its predictions. */
function tenthKey(elapsedS: number): string {
	// only odd quarters are exactly half-way between two tenths in binary
	const quarters = elapsedS * 4;
	if (Number.isInteger(quarters) && quarters % 2 === 1) return (2 * Math.round(elapsedS * 5)).toString();
	return Math.round(Number(elapsedS.toFixed(1)) * 10).toString();
}

/**
 * What score.py makes of a file of predictions: where two queries of a run lie within the same tenth of a second (a step that ends just after
 * a query), both are scored with the prediction of the later one.
 */
export function asScoredFromFile(scored: readonly ScoredQuery[]): ScoredQuery[] {
	const keyOf = (query: ScoredQuery): string => `${tenthKey(query.elapsedS)} ${query.runId}`;
	const last = new Map(scored.map((query) => [keyOf(query), query]));
	return scored.map((query) => {
		const { p10S, p50S, p90S } = last.get(keyOf(query)) as ScoredQuery;
		return { ...query, p10S, p50S, p90S };
	});
}

export function scores(scored: readonly ScoredQuery[]): Scores {
	if (scored.length === 0) throw new RangeError('scores: expected at least one query');
	const mean = (of: (query: ScoredQuery) => number): number =>
		scored.reduce((sum, query) => sum + of(query), 0) / scored.length;
	const level = (p: number, of: (query: ScoredQuery) => number): number =>
		mean((query) => pinball(p, query.leftS, of(query))) / 60;
	return {
		queries: scored.length,
		maeMin: mean(absoluteError) / 60,
		pinballMin: mean(meanPinball) / 60,
		pinballByLevelMin: [level(0.1, (q) => q.p10S), level(0.5, (q) => q.p50S), level(0.9, (q) => q.p90S)],
		coverage: mean((query) => (query.p10S <= query.leftS && query.leftS <= query.p90S ? 1 : 0))
	};
}
