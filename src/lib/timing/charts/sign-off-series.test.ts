import { describe, expect, it } from 'vitest';
import { cusumWeights, qualityOfLimit } from './sign-off';
import { signOffSeries } from './sign-off-series';

const rates = { accepted: 0.1, unaccepted: 0.2 };
// check-values.md, Skill: LC-CUSUM success +0.118, failure −0.693; CUSUM's weights follow from the same ratios
const limits = { learning: qualityOfLimit('lc-cusum', rates, 1.25, 50, { series: 10 }), watched: qualityOfLimit('cusum', rates, 1.8, 50, { series: 10 }) };
const well = (count: number) => Array.from({ length: count }, () => true);
const ill = (count: number) => Array.from({ length: count }, () => false);

describe('F10 sign-off of a person at a stage', () => {
	it('says how many attempts are needed at least, and that there are not enough', () => {
		const series = signOffSeries(well(3), rates, limits);
		expect(series.fewest).toBe(11); // 1.25 / 0.118 = 10.6
		expect(series.standing).toEqual({ notEnough: true, have: 3, need: 11 });
	});
	it('is ready by the eleventh attempt well done, and not before', () => {
		expect(signOffSeries(well(10), rates, limits).standing).toMatchObject({ notEnough: true });
		const series = signOffSeries(well(11), rates, limits);
		expect([series.standing, series.readySince]).toEqual(['ready', 10]);
	});
	it('is not yet ready after a failure on the way, although there were enough attempts', () =>
		expect(signOffSeries([...well(8), false, ...well(4)], rates, limits).standing).toBe('not yet'));
	it('watches from the signal on, and asks anew when the watch signals', () => {
		const series = signOffSeries([...well(11), ...ill(4)], rates, limits);
		expect(series.points.map(({ phase }) => phase).slice(9, 13)).toEqual(['learning', 'learning', 'watched', 'watched']);
		expect([series.standing, series.readySince]).toEqual(['relearning', null]);
		expect(signOffSeries([...well(11), ...ill(4), ...well(11)], rates, limits).standing).toBe('ready');
	});
	it('begins each phase from nothing', () => expect(signOffSeries([...well(11), ...ill(1)], rates, limits).points[11]?.value).toBeCloseTo(cusumWeights(rates).failure, 12));
	it('stays ready through one failure', () => expect(signOffSeries([...well(11), false, true], rates, limits).standing).toBe('ready'));
	it('tells nothing of nobody', () => expect(signOffSeries([], rates, limits).standing).toEqual({ notEnough: true, have: 0, need: 11 }));
});
