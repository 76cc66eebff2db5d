import erfcOracle from '@stdlib/math-base-special-erfc';
import cdfOracle from '@stdlib/stats-base-dists-normal-cdf';
import quantileOracle from '@stdlib/stats-base-dists-normal-quantile';
import { describe, expect, it } from 'vitest';
import { cusumOfMean, ewmaChart, individualsChart } from '$lib/timing/charts/measured';
import { cusumWeights, lcCusumWeights, qualityOfLimit, sequentialLimit } from '$lib/timing/charts/sign-off';
import { exponentOfSlope, timeOfFirst, timeOfUnit } from '$lib/timing/learning';
import { logNormalOfSum } from '$lib/timing/lognormal';
import { erfc, normalCdf, normalQuantile } from '$lib/timing/normal';
import { lagOneCorrelation, standardDeviation } from '$lib/timing/steadiness';
import { LEW, MAVRO } from './strd-univariate';

const relative = (value: number, expected: number): number => Math.abs(value - expected) / Math.abs(expected);

describe('control charts of measured values, NIST/SEMATECH e-Handbook of Statistical Methods', () => {
	// 6.3.2.3; S_hi is printed with two decimals, so half a unit of the last one
	it('CUSUM: sums of groups 13 to 20, and the first signal at group 14', () => {
		const data = [
			324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625, 325.15, 328.325,
			327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35
		];
		const points = cusumOfMean(data, { target: 325, slack: 0.3175, limit: 4.1959 });
		const printed = [3.01, 4.94, 7.45, 10.63, 11.99, 14.44, 16.0, 19.04];
		printed.forEach((sum, index) => expect(Math.abs(points[12 + index]!.high - sum)).toBeLessThanOrEqual(0.0051));
		expect(points.findIndex((point) => point.signal !== null) + 1).toBe(14);
	});

	const ewmaData = [
		52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1
	];

	// 6.3.2.4; the averages are printed with two decimals, the limits with four
	it('EWMA: averages and limits', () => {
		const chart = ewmaChart(ewmaData, { start: 50, sd: 2.0539 });
		const printed = [
			50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92,
			50.73, 51.23, 51.94, 51.99
		];
		printed.forEach((average, index) =>
			expect(Math.abs(chart.points[index]!.value - average)).toBeLessThanOrEqual(0.0051)
		);
		expect(chart.upper).toBeCloseTo(52.5884, 3);
		expect(chart.lower).toBeCloseTo(47.4115, 3);
		expect(chart.points.every((point) => point.signal === null)).toBe(true);
	});

	// 6.3.2.2; printed with four decimals from a moving range rounded to four
	it('individuals chart of the last ten: mean, mean moving range through the limits', () => {
		const chart = individualsChart(ewmaData.slice(-10));
		expect(chart.centre).toBeCloseTo(50.81, 10);
		expect(Math.abs(chart.upper - 55.8041)).toBeLessThan(2e-4);
		expect(Math.abs(chart.lower - 45.8159)).toBeLessThan(2e-4);
	});
});

describe('summary statistics, NIST Statistical Reference Datasets, univariate', () => {
	// certified to 15 digits; double precision loses up to 1e-12 in the deviations of Mavro, whose spread is 2e-4 of its mean
	it.each([
		['Lew', LEW],
		['Mavro', MAVRO]
	] as const)(
		'%s: mean, standard deviation, lag-1 autocorrelation',
		(_, { values, mean, standardDeviation: sd, lagOne }) => {
			expect(relative(values.reduce((sum: number, value) => sum + value, 0) / values.length, mean)).toBeLessThan(1e-14);
			expect(relative(standardDeviation(values), sd)).toBeLessThan(1e-11);
			expect(relative(lagOneCorrelation(values), lagOne)).toBeLessThan(1e-11);
		}
	);
});

describe('the normal distribution', () => {
	// M. J. Wichura, AS 241, Applied Statistics 37 (1988): accurate to about 1 part in 10^16
	it('AS 241: its published check values', () => {
		expect(relative(normalQuantile(0.25), -0.6744897501960817)).toBeLessThan(4e-16);
		expect(relative(normalQuantile(0.001), -3.090232306167814)).toBeLessThan(4e-16);
	});

	// SciPy 1.17 (special.ndtri, after S. L. Moshier's Cephes), printed to 16 digits; @stdlib gives no number there
	it('keeps its digits in the far tail', () => {
		expect(relative(normalQuantile(1e-20), -9.262340089798409)).toBeLessThan(1e-15);
		expect(relative(normalQuantile(1e-300), -37.0470962993612)).toBeLessThan(1e-14);
	});

	// oracle: @stdlib 0.3.1 and 0.2.5, written independently (Apache-2.0)
	it('agrees with @stdlib where @stdlib itself keeps its digits: its quantile goes through 2p − 1, which costs 1e-16/p', () => {
		for (const p of [1e-9, 1e-5, 0.0013, 0.02425, 0.0749, 0.0751, 0.3, 0.5 + 1e-9, 0.7, 0.926, 0.99999])
			expect(relative(normalQuantile(p), quantileOracle(p, 0, 1))).toBeLessThan(
				1e-13 + 2e-16 / Math.min(p, 1 - p, Math.abs(p - 0.5))
			);
		for (let z = -8; z <= 8; z += 0.37)
			expect(relative(normalCdf(z), cdfOracle(z, 0, 1))).toBeLessThan(2e-14 * Math.max(1, z * z));
		for (let x = -5; x <= 25; x += 0.31)
			expect(relative(erfc(x), erfcOracle(x))).toBeLessThan(2e-13 * Math.max(1, x * x));
	});

	it('takes back what the quantile gave', () => {
		for (let p = 0.001; p < 1; p += 0.0313) expect(normalCdf(normalQuantile(p))).toBeCloseTo(p, 14);
	});
});

// L. F. Fenton, IRE Trans. CS-8 (1960); derived: mean 5e^(1/8), variance 5e^(1/4)(e^(1/4) − 1); eight decimals are given
it('sum of five independent LN(0, 0.5²) by matched moments', () => {
	const { mu, sigma } = logNormalOfSum(Array.from({ length: 5 }, () => ({ mu: 0, sigma: 0.5 })));
	expect(mu).toBeCloseTo(1.70681277, 8);
	expect(sigma).toBeCloseTo(0.23505379, 8);
});

describe('practice curves', () => {
	// J. R. Crawford, 1944 (theory from memory; numbers derived from T_n = T_1·n^(−b)), as printed to seven digits
	it('unit theory, first unit 100, 85 %: unit 125 and the first 125 together', () => {
		const exponent = exponentOfSlope(0.85);
		expect(timeOfUnit('unit', 100, exponent, 125)).toBeCloseTo(32.23647, 5);
		expect(timeOfFirst('unit', 100, exponent, 125)).toBeCloseTo(5201.085, 3);
	});

	// T. P. Wright, 1936 (theory from memory; number derived from T_1·(n^(1−b) − (n−1)^(1−b)))
	it('cumulative-average theory, first 110, 88.5 %: unit 2200', () => {
		expect(timeOfUnit('cumulative average', 110, exponentOfSlope(0.885), 2200)).toBeCloseTo(23.34001, 5);
	});

	// Newell & Rosenbloom 1981; Wright 1936; memory: an 80 % curve has b = 0.322
	it('an 80 % curve has exponent 0.322', () => expect(exponentOfSlope(0.8)).toBeCloseTo(0.322, 3));
});

describe('sign-off charts', () => {
	// derived from the sequential probability ratio test; printed with three and two decimals
	it('CUSUM weights and limit for 5 % good, 15 % bad, α = β = 0.1', () => {
		const rates = { accepted: 0.05, unaccepted: 0.15 };
		expect(cusumWeights(rates).success).toBeCloseTo(-0.092, 3);
		expect(cusumWeights(rates).failure).toBeCloseTo(0.908, 3);
		expect(sequentialLimit(rates, 0.1)).toBeCloseTo(1.82, 2);
	});

	// D. J. Biau and others, 2008 (method); weights derived; false-signal rates of 50 attempts are whole per cents: half of one, and two
	// standard errors of 20,000 series (0.7 %)
	it('LC-CUSUM for 10 % adequate, 20 % inadequate: weights, and false signals at 1.25 and 2.0', () => {
		const rates = { accepted: 0.1, unaccepted: 0.2 };
		expect(lcCusumWeights(rates).success).toBeCloseTo(0.118, 3);
		expect(lcCusumWeights(rates).failure).toBeCloseTo(-0.693, 3);
		const falseAt = (limit: number): number =>
			qualityOfLimit('lc-cusum', rates, limit, 50, { series: 20_000, seed: 4 }).falseSignals;
		expect(Math.abs(falseAt(1.25) - 0.65)).toBeLessThan(0.012);
		expect(Math.abs(falseAt(2) - 0.23)).toBeLessThan(0.012);
	});
});
