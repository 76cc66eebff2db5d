import { describe, expect, it } from 'vitest';
import { ewma, ewmaLimits, individuals } from '$lib/metrology/driftCharts';

/** Charts of stored positions. Source: NIST/SEMATECH e-Handbook of Statistical Methods, sections named below; numbers as printed there. */
const data = [
	52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1
];

describe('PD1 EWMA, section 6.3.2.4 (λ 0.3, start 50, s 2.0539)', () => {
	it('series as printed, two places', () => {
		const printed = [
			50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92,
			50.73, 51.23, 51.94, 51.99
		];
		// half a unit of the second place, and one more because the handbook carries rounded values on
		ewma(data, 50, 0.3).forEach((value, index) => expect(Math.abs(value - printed[index]!)).toBeLessThan(0.0101));
	});
	it('limits 47.4115 and 52.5884', () => {
		const { low, high } = ewmaLimits(50, 2.0539, 0.3);
		expect(Math.abs(low - 47.4115)).toBeLessThan(2e-4);
		expect(Math.abs(high - 52.5884)).toBeLessThan(2e-4);
	});
});

describe('PD2 individuals, section 6.3.2.2 (the last ten of that series)', () => {
	it('mean 50.81, mean moving range 1.8778, limits 45.8159 and 55.8041', () => {
		const chart = individuals(data.slice(10))!;
		expect(chart.mean).toBeCloseTo(50.81, 9);
		expect(chart.meanMovingRange).toBeCloseTo(1.8778, 4);
		expect(Math.abs(chart.low - 45.8159)).toBeLessThan(2e-4);
		expect(Math.abs(chart.high - 55.8041)).toBeLessThan(2e-4);
	});
});
