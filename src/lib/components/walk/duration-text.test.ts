import { describe, expect, it } from 'vitest';
import { aboutText, chanceText, clockText, fitsText } from './duration-text';

describe('times in words', () => {
	it.each([[0, '0:00'], [42_900, '0:42'], [725_000, '12:05'], [3_729_000, '1:02:09']])('%i ms runs as %s', (ms, text) => expect(clockText(ms)).toBe(text));
	it.each([[20_000, 'under 1 min'], [840_000, '14 min'], [59.6 * 60_000, '1 h 0 min'], [4_800_000, '1 h 20 min'], [7_140_000, '2 h 0 min']])('%i ms is about %s', (ms, text) => expect(aboutText(ms)).toBe(text));
});

describe('chances in words', () => {
	it('never promises and never despairs', () => {
		expect(chanceText(1)).toBe('19 in 20');
		expect(chanceText(0)).toBe('1 in 20');
	});
	it.each([[0.99, 'visit fits, almost surely'], [0.95, 'visit fits, 19 in 20'], [0.6, 'visit may not fit: 12 in 20 that it does'], [0.01, 'visit will hardly fit']])('%f reads "%s"', (p, text) => expect(fitsText(p)).toBe(text));
});
