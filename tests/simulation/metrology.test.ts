import { describe, expect, it } from 'vitest';
import { calibrate, predictTimeS } from '$lib/metrology/calibration';
import { loopFigures } from '$lib/metrology/loopFigures';
import { reckonings } from '$lib/metrology/registry';
import { solve } from '$lib/metrology/solve';
import { dice, drawQuestion, monteCarlo, shareBelow } from './metrology-cases';
import { walkLoop, type LoopSetting } from './metrology-loops';

/** What the reckonings promise, held against plain Monte Carlo from fixed seeds. The full-size figures are in tests/bench. */

describe('SM1 a propagated uncertainty is within 5 % of Monte Carlo, an interval holds 95 % of it', () => {
	it.each(reckonings.map((reckoning) => [reckoning.name, reckoning] as const))('%s', (name, reckoning) => {
		const roll = dice(6100 + name.length);
		let compared = 0;
		for (let i = 0; compared < 3 && i < 400; i++) {
			const given = drawQuestion(reckoning, roll, 0.12);
			const solved = solve(reckoning, given);
			if (solved.kind !== 'solved') continue;
			const drawn = monteCarlo(reckoning, solved.used, given, 20_000, roll);
			for (const [output, { uncertainty, interval }] of Object.entries(solved.results)) {
				const judge = drawn.deviation[output]!;
				if (interval) {
					const sorted = drawn.sorted[output]!;
					// one and a half points of the interval's own draws, and two standard deviations of the judge's (0.0015)
					const held = shareBelow(sorted, interval[1]) - shareBelow(sorted, interval[0]);
					expect(Math.abs(held - 0.95), `${output} ${JSON.stringify(given)}`).toBeLessThan(0.018);
				} else if (uncertainty)
					expect(Math.abs(uncertainty / judge - 1), `${output} ${JSON.stringify(given)}`).toBeLessThan(0.05);
			}
			compared++;
		}
		expect(compared).toBeGreaterThan(0);
	});
});

const loop: Omit<LoopSetting, 'startShare'> = {
	gapM: 20e-6,
	noise: 0.05,
	toleranceShare: 0.09,
	allowedRounds: 3,
	wrongSign: false
};

describe('SM2 half-difference loops', () => {
	it('converge within three rounds in at least 95 %', () => {
		const roll = dice(6201);
		const walks = Array.from({ length: 2000 }, () => walkLoop({ ...loop, startShare: roll.uniform(0.1, 0.9) }, roll));
		expect(walks.filter(({ end }) => end === 'converged').length / walks.length).toBeGreaterThanOrEqual(0.95);
	});
	it('a wrong sign is recognised by round 2 in at least 95 % of the loops that move', () => {
		const roll = dice(6202);
		const walks = Array.from({ length: 2000 }, () =>
			walkLoop({ ...loop, startShare: roll.uniform(0.1, 0.9), wrongSign: true }, roll)
		);
		const moved = walks.filter((walk) => walk.moved);
		expect(
			moved.filter(({ end, rounds }) => end === 'grows' && rounds === 2).length / moved.length
		).toBeGreaterThanOrEqual(0.95);
	});
	it.each([
		['start 10 to 90 % off', 0.1, 0.9, loopFigures.wrongSignToldPercent],
		['start 10 % off', 0.1, 0.1, loopFigures.wrongSignToldClosePercent]
	])('the figures that the screen states hold: %s', (_, least, most, stated) => {
		const roll = dice(6204);
		const walks = Array.from({ length: 4000 }, () =>
			walkLoop({ ...loop, startShare: roll.uniform(least, most), wrongSign: true }, roll)
		);
		const told = walks.filter(({ end, rounds }) => end === 'grows' && rounds === 2).length;
		// three standard deviations of a share of 4000 near 60 % are 2.3 points
		expect(Math.abs((100 * told) / walks.length - stated)).toBeLessThan(2.3);
	});
	it('a right sign is hardly ever taken for a wrong one', () => {
		const roll = dice(6203);
		const walks = Array.from({ length: 2000 }, () => walkLoop({ ...loop, startShare: roll.uniform(0.1, 0.9) }, roll));
		expect(walks.filter(({ end }) => end === 'grows').length / walks.length).toBeLessThan(0.01);
	});
});

describe('SM3 the calibration’s 90 % prediction interval covers 85 to 95 % of simulated cuts', () => {
	it.each([5, 8, 20])('%i cuts', (cuts) => {
		const roll = dice(6300 + cuts);
		const measure = () => {
			const volumeM3 = 1e-18 * Math.exp(roll.uniform(0, 6));
			const rate = 0.2e-9 * Math.exp(0.15 * roll.normal());
			return { volumeM3: volumeM3 * (1 + 0.03 * roll.normal()), currentA: 1e-9, timeS: volumeM3 / rate / 1e-9 };
		};
		let covered = 0;
		const trials = 2000;
		for (let i = 0; i < trials; i++) {
			const calibration = calibrate(Array.from({ length: cuts }, measure));
			const next = measure();
			const { interval } = predictTimeS(calibration, next.volumeM3, next.currentA);
			if (next.timeS >= interval.least && next.timeS <= interval.most) covered++;
		}
		expect(covered / trials).toBeGreaterThan(0.85);
		expect(covered / trials).toBeLessThan(0.95);
	});
});
