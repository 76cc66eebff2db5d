import { describe, expect, it } from 'vitest';
import { spokenTime, visitLeftText } from '$lib/session/time-words';
import { aboutText, chanceText, clockText, fitsText } from './duration-text';

describe('times in words', () => {
	it.each([[0, '0:00'], [42_900, '0:42'], [725_000, '12:05'], [3_729_000, '1:02:09']])('%i ms runs as %s', (ms, text) => expect(clockText(ms)).toBe(text));
	it.each([[20_000, 'under 1 min'], [840_000, '14 min'], [59.6 * 60_000, '1 h 0 min'], [4_800_000, '1 h 20 min'], [7_140_000, '2 h 0 min']])('%i ms is about %s', (ms, text) => expect(aboutText(ms)).toBe(text));
});

describe('what is left of the visit', () => {
	it.each([
		[0.9, '23 min left in the visit, 9 in 10 that it fits'],
		[null, '23 min left in the visit'],
		[0.99, '23 min left in the visit, it fits almost surely'],
		[0.01, '23 min left in the visit, it will hardly fit']
	] as const)('with %f that it fits', (fits, text) => expect(visitLeftText(23 * 60_000, fits)).toBe(text));
	it.each([[20_000, 'less than a minute'], [1_380_000, '23 minutes'], [7_200_000, '2 hours'], [7_500_000, '2 hours 5 minutes']])('%i ms is said as %s', (ms, text) => expect(spokenTime(ms)).toBe(text));
});

describe('chances in words', () => {
	it('never promises and never despairs', () => {
		expect(chanceText(1)).toBe('9 in 10');
		expect(chanceText(0)).toBe('1 in 10');
	});
	it.each([[0.99, 'visit fits, almost surely'], [0.91, 'visit fits, 9 in 10'], [0.6, 'visit may not fit: 6 in 10 that it does'], [0.01, 'visit will hardly fit']])('%f reads "%s"', (p, text) => expect(fitsText(p)).toBe(text));
});
