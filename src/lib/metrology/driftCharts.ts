/**
 * Two charts for a short series of one quantity: individuals with moving range, and the exponentially weighted moving average.
 * NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 and 6.3.2.4.
 */
export interface Individuals {
	readonly mean: number;
	readonly meanMovingRange: number;
	readonly low: number;
	readonly high: number;
}

/** d₂ of a range of two: E|X₁ − X₂|/σ = 2/√π = 1.128 (the tables' rounding is kept, so that limits agree with them). */
const rangeOfTwo = 1.128;

/** Limits at mean ± 3·(mean moving range)/1.128. Null for fewer than two values. */
export function individuals(values: readonly number[]): Individuals | null {
	if (values.length < 2) return null;
	const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
	let ranges = 0;
	for (let i = 1; i < values.length; i++) ranges += Math.abs(values[i]! - values[i - 1]!);
	const meanMovingRange = ranges / (values.length - 1);
	const half = (3 * meanMovingRange) / rangeOfTwo;
	return { mean, meanMovingRange, low: mean - half, high: mean + half };
}

/** EWMAₜ = λ·yₜ + (1 − λ)·EWMAₜ₋₁ from `start`; one value per reading. */
export function ewma(values: readonly number[], start: number, weight: number): number[] {
	let level = start;
	return values.map((value) => (level = weight * value + (1 - weight) * level));
}

/** Limits for late times: start ± 3·s·√(λ/(2 − λ)). */
export function ewmaLimits(start: number, sd: number, weight: number): { low: number; high: number } {
	const half = 3 * sd * Math.sqrt(weight / (2 - weight));
	return { low: start - half, high: start + half };
}
