/**
 * Charts of success and failure for signing a person off and for watching that it stays so. Both add the log-likelihood ratio of two rates
 * of failure, accepted and not, per attempt.
 *   weights: P = ln(p₁/p₀), Q = ln((1−p₀)/(1−p₁)), p₀ < p₁ (derived from the sequential probability ratio test)
 *   CUSUM     watches that a good rate p₀ stays good: success −Q/(P+Q), failure +P/(P+Q), held at 0 or above; a signal at h: no longer good
 *   LC-CUSUM  asks whether a learner has become adequate (failure rate p₀, inadequate p₁): success +Q, failure −P, held at 0 or above;
 *             a signal at h: adequate. Its null hypothesis is the inadequate rate: D. J. Biau and others, 2008
 */
import { seededDraws } from '../draws';

export interface Rates {
	/** Failure rate that is accepted. */
	readonly accepted: number;
	/** Failure rate that is not; above `accepted`. */
	readonly unaccepted: number;
}

export interface Weights {
	readonly success: number;
	readonly failure: number;
}

function ratios({ accepted, unaccepted }: Rates): { p: number; q: number } {
	if (!(accepted > 0 && accepted < unaccepted && unaccepted < 1))
		throw new RangeError(`failure rates: expected 0 < accepted < unaccepted < 1, got ${accepted} and ${unaccepted}`);
	return { p: Math.log(unaccepted / accepted), q: Math.log((1 - accepted) / (1 - unaccepted)) };
}

export function cusumWeights(rates: Rates): Weights {
	const { p, q } = ratios(rates);
	return { success: -q / (p + q), failure: p / (p + q) };
}

/** Limit of the sequential test for equal error rates α = β: ln((1−α)/α)/(P+Q), in the scale of `cusumWeights`. */
export function sequentialLimit(rates: Rates, error: number): number {
	const { p, q } = ratios(rates);
	return Math.log((1 - error) / error) / (p + q);
}

export function lcCusumWeights(rates: Rates): Weights {
	const { p, q } = ratios(rates);
	return { success: q, failure: -p };
}

/** The sum after one more attempt: held at 0 or above. */
export const nextSum = (sum: number, well: boolean, { success, failure }: Weights): number => Math.max(0, sum + (well ? success : failure));

/** Whether a sum reaches its limit; sums of rounded weights may miss one that they reach. */
export const reaches = (sum: number, limit: number): boolean => sum >= limit - 1e-9;

export interface LimitQuality {
	readonly limit: number;
	/** Share of series that signalled although they should not have. */
	readonly falseSignals: number;
	/** Share of series that signalled as they should. */
	readonly trueSignals: number;
	readonly attempts: number;
	readonly series: number;
}

/**
 * Share of simulated series of `attempts` that signal, at the rate at which they should not and at that at which they should.
 * For CUSUM the first is the accepted rate, for LC-CUSUM the unaccepted one.
 */
export function qualityOfLimit(
	kind: 'cusum' | 'lc-cusum',
	rates: Rates,
	limit: number,
	attempts: number,
	{ series = 10_000, seed = 1 } = {}
): LimitQuality {
	const weights = kind === 'cusum' ? cusumWeights(rates) : lcCusumWeights(rates);
	const [quiet, loud] = kind === 'cusum' ? [rates.accepted, rates.unaccepted] : [rates.unaccepted, rates.accepted];
	const draws = seededDraws(seed);
	const share = (failureRate: number): number => {
		let signalled = 0;
		for (let one = 0; one < series; one++) {
			let value = 0;
			for (let attempt = 0; attempt < attempts; attempt++) {
				value = nextSum(value, draws.uniform() >= failureRate, weights);
				if (!reaches(value, limit)) continue;
				signalled += 1;
				break;
			}
		}
		return signalled / series;
	};
	return { limit, falseSignals: share(quiet), trueSignals: share(loud), attempts, series };
}

/** The lowest limit, in steps of `step`, whose share of false signals within `attempts` is at most `mostFalse`. */
export function chooseLimit(
	kind: 'cusum' | 'lc-cusum',
	rates: Rates,
	mostFalse: number,
	attempts: number,
	{ series = 4000, seed = 1, step = 0.05 } = {}
): LimitQuality {
	for (let index = 1; index <= 400; index++) {
		const quality = qualityOfLimit(kind, rates, index * step, attempts, { series, seed });
		if (quality.falseSignals <= mostFalse) return quality;
	}
	throw new RangeError(`no limit up to ${400 * step} keeps false signals within ${mostFalse} in ${attempts} attempts`);
}
