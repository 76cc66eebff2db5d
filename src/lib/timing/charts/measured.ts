/** Control charts of measured values: times (ln ms) and drifts of stored positions. Formulas: NIST/SEMATECH e-Handbook, section 6.3.2. */

/** One value on a chart. `signal` says which limit it went beyond. */
export interface ChartPoint {
	readonly value: number;
	readonly signal: 'high' | 'low' | null;
}

export interface Chart {
	readonly points: readonly ChartPoint[];
	readonly centre: number;
	readonly lower: number;
	readonly upper: number;
	/** The rule in words, shown beside every verdict. */
	readonly rule: string;
}

const side = (value: number, lower: number, upper: number): ChartPoint['signal'] =>
	value > upper ? 'high' : value < lower ? 'low' : null;

/** Moving range of two values has mean d₂ = 2/√π times the standard deviation; 1.128 is the handbook's rounding. */
const D2 = 1.128;

/** Individuals chart: mean ± 3·(mean moving range)/1.128 of `baseline` (e-Handbook 6.3.2.2), applied to `values`. */
export function individualsChart(values: readonly number[], baseline: readonly number[] = values): Chart {
	if (baseline.length < 2)
		throw new RangeError(`individuals chart: expected a baseline of at least 2 values, got ${baseline.length}`);
	const centre = baseline.reduce((sum, value) => sum + value, 0) / baseline.length;
	const range =
		baseline.slice(1).reduce((sum, value, index) => sum + Math.abs(value - (baseline[index] as number)), 0) /
		(baseline.length - 1);
	const reach = (3 * range) / D2;
	const [lower, upper] = [centre - reach, centre + reach];
	return {
		points: values.map((value) => ({ value, signal: side(value, lower, upper) })),
		centre,
		lower,
		upper,
		rule: 'A value is told when it lies beyond the mean ± 3 standard deviations, these from the mean moving range over 1.128.'
	};
}

/**
 * EWMA chart: E_i = λ·y_i + (1−λ)·E_(i−1), E_0 = start; limits start ± k·s·√(λ/(2−λ)), the settled ones (e-Handbook 6.3.2.4).
 * @param sd standard deviation of single values
 */
export function ewmaChart(
	values: readonly number[],
	{ start, sd, lambda = 0.3, widths = 3 }: { start: number; sd: number; lambda?: number; widths?: number }
): Chart {
	if (!(lambda > 0 && lambda <= 1)) throw new RangeError(`EWMA chart: expected λ above 0 and up to 1, got ${lambda}`);
	const reach = widths * sd * Math.sqrt(lambda / (2 - lambda));
	const [lower, upper] = [start - reach, start + reach];
	let mean = start;
	const points = values.map((value) => {
		mean = lambda * value + (1 - lambda) * mean;
		return { value: mean, signal: side(mean, lower, upper) };
	});
	const rule = `A drift is told when the running mean, in which each new value weighs ${lambda}, lies beyond ${widths} of its standard deviations.`;
	return { points, centre: start, lower, upper, rule };
}

export interface CusumPoint {
	readonly high: number;
	readonly low: number;
	readonly signal: 'high' | 'low' | null;
}

/**
 * Tabular CUSUM of a mean: S_hi(i) = max(0, S_hi(i−1) + x_i − target − k), S_lo(i) = max(0, S_lo(i−1) + target − k − x_i); a signal beyond h
 * (e-Handbook 6.3.2.3). k and h in the unit of the values.
 */
export function cusumOfMean(
	values: readonly number[],
	{ target, slack, limit }: { target: number; slack: number; limit: number }
): CusumPoint[] {
	let high = 0;
	let low = 0;
	return values.map((value) => {
		high = Math.max(0, high + value - target - slack);
		low = Math.max(0, low + target - slack - value);
		return { high, low, signal: high > limit ? 'high' : low > limit ? 'low' : null };
	});
}
