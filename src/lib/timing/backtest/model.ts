/** What a model of the time left is, for the backtest. */
import type { Query } from './query';
import type { RecordedRun } from './recorded-run';

export interface PredictedS {
	readonly p10S: number;
	readonly p50S: number;
	readonly p90S: number;
}

export interface FittedModel {
	predict(query: Query): PredictedS;
}

/** Fits on training runs; `everyS` is the spacing of queries, `seed` that of its draws. */
export type FitModel = (
	train: readonly RecordedRun[],
	settings: { readonly everyS: number; readonly seed: number }
) => FittedModel;
