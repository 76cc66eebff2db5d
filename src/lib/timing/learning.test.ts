import { describe, expect, it } from 'vitest';
import { seededDraws } from './draws';
import { fitPractice, timeOfUnit } from './learning';
import { againstGroup, steadiness } from './steadiness';

const curve = (theory: 'unit' | 'cumulative average', count: number, noise: () => number) =>
	Array.from({ length: count }, (_, index) => timeOfUnit(theory, 600_000, 0.322, index + 1) * Math.exp(noise()));

describe('curves of practice', () => {
	it.each(['unit', 'cumulative average'] as const)('finds a %s curve again that has no noise', (theory) => {
		const fit = fitPractice(
			curve(theory, 12, () => 0),
			theory
		);
		expect(fit).toMatchObject({ theory, count: 12 });
		if ('notEnough' in fit) throw new Error('expected a fit');
		expect(fit.exponent).toBeCloseTo(0.322, 9);
		expect(fit.firstMs).toBeCloseTo(600_000, 3);
		expect(fit.spread).toBeLessThan(1e-9);
	});

	it('states a spread and a standard error that hold: the true exponent lies within two of them in about 95 of 100 series', () => {
		const draws = seededDraws(5);
		let within = 0;
		for (let series = 0; series < 400; series++) {
			const fit = fitPractice(
				curve('unit', 30, () => 0.2 * draws.normal()),
				'unit'
			);
			if ('notEnough' in fit) throw new Error('expected a fit');
			if (Math.abs(fit.exponent - 0.322) < 2 * fit.exponentSe) within += 1;
		}
		expect(within).toBeGreaterThan(365);
		expect(within).toBeLessThan(395);
	});

	it('says when there are not enough runs, and refuses a time of zero', () => {
		expect(fitPractice([1, 2, 3, 4], 'unit')).toEqual({ notEnough: true, have: 4, need: 5 });
		expect(() => fitPractice([1, 0], 'unit')).toThrow('expected times above 0 ms, got 0');
	});
});

describe('steadiness and the group', () => {
	const draws = seededDraws(9);
	const times = (count: number, mu: number, sd: number) =>
		Array.from({ length: count }, () => Math.exp(mu + sd * draws.normal()));

	it('is the spread of log durations, with an interval around it', () => {
		const found = steadiness(times(200, 11, 0.3));
		if ('notEnough' in found) throw new Error('expected a spread');
		expect(found.spread).toBeGreaterThan(0.26);
		expect(found.spread).toBeLessThan(0.34);
		expect(found.interval[0]).toBeLessThan(found.spread);
		expect(found.interval[1]).toBeGreaterThan(found.spread);
	});

	it('calls somebody slower only where the interval says so, with the rule in words', () => {
		const slower = againstGroup(times(30, 11.7, 0.3), times(60, 11, 0.3));
		expect(slower).toMatchObject({ verdict: 'slower', ownCount: 30, groupCount: 60 });
		expect('rule' in slower && slower.rule).toContain('90 % interval');
		expect(againstGroup(times(6, 11, 0.3), times(60, 11, 0.3))).toMatchObject({ verdict: 'no difference to be seen' });
	});

	it('says when there are not enough runs, of whom', () => {
		expect(steadiness([1, 2])).toEqual({ notEnough: true, have: 2, need: 5 });
		expect(againstGroup([1, 2, 3, 4, 5], [1, 2])).toEqual({ notEnough: true, have: 2, need: 5 });
	});
});
