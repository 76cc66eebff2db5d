/**
 * One person's attempts at one stage: first the question whether the learner has become adequate (LC-CUSUM), from the signal on the watch
 * that it stays so (CUSUM); a signal of the watch asks the first question anew, from nothing.
 */
import type { NotEnough } from '../learning';
import { cusumWeights, lcCusumWeights, type LimitQuality, nextSum, type Rates, reaches } from './sign-off';

export type Phase = 'learning' | 'watched';

export interface SeriesPoint {
	readonly well: boolean;
	readonly phase: Phase;
	/** The chart's sum after this attempt; it begins at 0 in each phase. */
	readonly value: number;
	readonly signal: boolean;
}

/** What is known of somebody at a stage. `relearning`: was ready once, and the watch has signalled since. */
export type Standing = 'ready' | 'not yet' | 'relearning' | NotEnough;

export interface SignOffSeries {
	readonly points: readonly SeriesPoint[];
	readonly standing: Standing;
	/** Index of the attempt by which the present state "ready" was reached; null where not ready. */
	readonly readySince: number | null;
	/** Attempts, all well done, after which the question can be answered with yes at the earliest. */
	readonly fewest: number;
}

export interface Limits {
	readonly learning: LimitQuality;
	readonly watched: LimitQuality;
}

/** @param attempts in the order made, true: well done */
export function signOffSeries(attempts: readonly boolean[], rates: Rates, limits: Limits): SignOffSeries {
	const weights = { learning: lcCusumWeights(rates), watched: cusumWeights(rates) };
	const fewest = Math.ceil(limits.learning.limit / weights.learning.success - 1e-9);
	let phase: Phase = 'learning';
	let value = 0;
	let readySince: number | null = null;
	let relearning = false;
	const points = attempts.map((well, index): SeriesPoint => {
		value = nextSum(value, well, weights[phase]);
		const point = { well, phase, value, signal: reaches(value, limits[phase].limit) };
		if (point.signal) {
			relearning = phase === 'watched';
			readySince = phase === 'learning' ? index : null;
			phase = phase === 'learning' ? 'watched' : 'learning';
			value = 0;
		}
		return point;
	});
	const standing = readySince !== null ? 'ready' : relearning ? 'relearning' : attempts.length < fewest ? { notEnough: true as const, have: attempts.length, need: fewest } : 'not yet';
	return { points, standing, readySince, fewest };
}
