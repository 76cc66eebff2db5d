import { describe, expect, it } from 'vitest';
import { chooseLimit, cusumWeights, lcCusumWeights, qualityOfLimit, signOffChart, signOffRule } from './sign-off';

const rates = { accepted: 0.05, unaccepted: 0.15 };

describe('sign-off charts', () => {
	it('CUSUM stays at zero through successes and signals after failures close together', () => {
		const points = signOffChart([true, true, false, false, false, true], cusumWeights(rates), 1.82);
		expect(points.map((point) => point.signal)).toEqual([false, false, false, false, true, true]);
		expect(points[1]!.value).toBe(0);
	});

	it('LC-CUSUM signals after enough successes, and can begin anew', () => {
		const attempts = Array.from({ length: 40 }, () => true);
		const points = signOffChart(attempts, lcCusumWeights({ accepted: 0.1, unaccepted: 0.2 }), 2, true);
		expect(points.findIndex((point) => point.signal) + 1).toBe(17); // 17 × 0.1178 is the first sum of at least 2
		expect(points[17]!.value).toBeCloseTo(0.1178, 4);
	});

	it.each(['cusum', 'lc-cusum'] as const)(
		'%s: the chosen limit keeps false signals within what was asked, the one before did not',
		(kind) => {
			const chosen = chooseLimit(kind, rates, 0.1, 50);
			expect(chosen.falseSignals).toBeLessThanOrEqual(0.1);
			expect(qualityOfLimit(kind, rates, chosen.limit - 0.05, 50, { series: 4000 }).falseSignals).toBeGreaterThan(0.1);
			expect(chosen.trueSignals).toBeGreaterThan(chosen.falseSignals);
			expect(signOffRule(kind, rates, chosen)).toContain(`${chosen.limit.toFixed(2)}`);
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
