/** Log-normal durations: ln T is normal with mean `mu` and standard deviation `sigma` (T in milliseconds throughout). */
import { normalCdf, normalQuantile, normalTail } from './normal';

export interface LogNormal {
	readonly mu: number;
	readonly sigma: number;
}

/**
 * The log-normal that has this mean and variance (Fenton's method for sums: L. F. Fenton, The sum of log-normal probability distributions
 * in scatter transmission systems, IRE Trans. CS-8 (1960) 57–67): σ² = ln(1 + v/m²), μ = ln m − σ²/2.
 */
export function logNormalFromMoments(mean: number, variance: number): LogNormal {
	if (!(mean > 0) || !(variance >= 0))
		throw new RangeError(
			`log-normal: expected a mean above 0 and a variance of at least 0, got ${mean} and ${variance}`
		);
	const sigma2 = Math.log1p(variance / (mean * mean));
	return { mu: Math.log(mean) - sigma2 / 2, sigma: Math.sqrt(sigma2) };
}

/** Matched moments of a sum of independent log-normals. */
export function logNormalOfSum(terms: readonly LogNormal[]): LogNormal {
	let mean = 0;
	let variance = 0;
	for (const term of terms) {
		const termMean = logNormalMean(term);
		mean += termMean;
		variance += termMean * termMean * Math.expm1(term.sigma * term.sigma);
	}
	return logNormalFromMoments(mean, variance);
}

export const logNormalMean = ({ mu, sigma }: LogNormal): number => Math.exp(mu + (sigma * sigma) / 2);

export const logNormalQuantile = ({ mu, sigma }: LogNormal, p: number): number =>
	sigma === 0 ? Math.exp(mu) : Math.exp(mu + sigma * normalQuantile(p));

export function logNormalCdf({ mu, sigma }: LogNormal, t: number): number {
	if (t <= 0) return 0;
	if (sigma === 0) return Math.log(t) >= mu ? 1 : 0;
	return normalCdf((Math.log(t) - mu) / sigma);
}

/** Quantile of the time left, T − elapsed, given that T has already lasted beyond `elapsed`. */
export function leftQuantile(law: LogNormal, elapsed: number, p: number): number {
	if (elapsed <= 0) return logNormalQuantile(law, p);
	if (law.sigma === 0) return Math.max(0, Math.exp(law.mu) - elapsed);
	// worked from the upper tail, which keeps its digits where the step has long outlasted its usual time
	const survived = normalTail((Math.log(elapsed) - law.mu) / law.sigma);
	const tail = survived * (1 - p);
	if (tail <= 1e-300) return 0;
	return Math.max(0, Math.exp(law.mu - law.sigma * normalQuantile(tail)) - elapsed);
}

/** Mean and variance of the time left, given that T has already lasted beyond `elapsed`: partial moments of the log-normal. */
export function leftMoments(law: LogNormal, elapsed: number): { mean: number; variance: number } {
	const { mu, sigma } = law;
	if (elapsed <= 0 || sigma === 0) {
		const mean = logNormalMean(law);
		if (elapsed <= 0) return { mean, variance: mean * mean * Math.expm1(sigma * sigma) };
		return { mean: Math.max(0, mean - elapsed), variance: 0 };
	}
	const z = (Math.log(elapsed) - mu) / sigma;
	const survived = normalTail(z);
	if (survived <= 1e-300) return { mean: 0, variance: 0 };
	const first = (Math.exp(mu + (sigma * sigma) / 2) * normalTail(z - sigma)) / survived;
	const second = (Math.exp(2 * mu + 2 * sigma * sigma) * normalTail(z - 2 * sigma)) / survived;
	return { mean: Math.max(0, first - elapsed), variance: Math.max(0, second - first * first) };
}
