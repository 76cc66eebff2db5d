/** The models of the backtest, by the name under which they are asked for. */
import { fitPace, fitSum, fitTotal } from './baselines';
import { fitFull, fitLogNormal, fitShrunk } from './drawn';
import { fitEmpirical } from './empirical';
import type { FitModel } from './model';

export const MODELS = {
	full: fitFull,
	shrunk: fitShrunk,
	lognormal: fitLogNormal,
	empirical: fitEmpirical,
	pace: fitPace,
	sum: fitSum,
	total: fitTotal
} as const satisfies Record<string, FitModel>;

export type ModelName = keyof typeof MODELS;

export const isModelName = (name: string): name is ModelName => Object.hasOwn(MODELS, name);
