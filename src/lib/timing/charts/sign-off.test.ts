import { describe, expect, it } from 'vitest';
import { chooseLimit, cusumWeights, lcCusumWeights, nextSum, qualityOfLimit, reaches, type Weights } from './sign-off';

const rates = { accepted: 0.05, unaccepted: 0.15 };

const sums = (attempts: readonly boolean[], weights: Weights): number[] => {
	let sum = 0;
	return attempts.map((well) => (sum = nextSum(sum, well, weights)));
};

describe('sign-off charts', () => {
	it('CUSUM stays at zero through successes and signals after failures close together', () => {
		const values = sums([true, true, false, false, false, true], cusumWeights(rates));
		expect(values.map((value) => reaches(value, 1.82))).toEqual([false, false, false, false, true, true]);
		expect(values[1]).toBe(0);
	});

	it('LC-CUSUM signals after enough successes', () => {
		const values = sums(Array.from({ length: 40 }, () => true), lcCusumWeights({ accepted: 0.1, unaccepted: 0.2 }));
		expect(values.findIndex((value) => reaches(value, 2)) + 1).toBe(17); // 17 × 0.1178 is the first sum of at least 2
		expect(values[0]).toBeCloseTo(0.1178, 4);
	});

	it.each(['cusum', 'lc-cusum'] as const)(
		'%s: the chosen limit keeps false signals within what was asked, the one before did not',
		(kind) => {
			const chosen = chooseLimit(kind, rates, 0.1, 50);
			expect(chosen.falseSignals).toBeLessThanOrEqual(0.1);
			expect(qualityOfLimit(kind, rates, chosen.limit - 0.05, 50, { series: 4000 }).falseSignals).toBeGreaterThan(0.1);
			expect(chosen.trueSignals).toBeGreaterThan(chosen.falseSignals);
		}
	);

	it('a series of one failure can be reckoned by hand: with a limit of one failure, false signals are 1 − 0.95^n', () => {
		const { falseSignals } = qualityOfLimit('cusum', rates, 0.5, 10, { series: 40_000 });
		expect(Math.abs(falseSignals - (1 - 0.95 ** 10))).toBeLessThan(0.01);
	});

	it('refuses rates that are none', () => {
		expect(() => cusumWeights({ accepted: 0.2, unaccepted: 0.1 })).toThrow(
			'expected 0 < accepted < unaccepted < 1, got 0.2 and 0.1'
		);
	});
});
