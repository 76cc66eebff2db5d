import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { emptyEntry, enter, type NumberToken, numberToken, valueOf } from './number-entry';

const give = (words: string) =>
	words.split(' ').reduce((entry, word) => {
		const token = numberToken(word);
		return token === null ? entry : enter(entry, token, word);
	}, emptyEntry);

describe('a number given token by token', () => {
	it('reads digits said one by one', () => expect(valueOf(give('four five point two'))).toBe(45.2));
	it('reads keys and words alike', () => expect(valueOf(give('3 four , 8'))).toBe(34.8));
	it('takes the last token back on "correct"', () => expect(valueOf(give('four six correct five'))).toBe(45));
	it('takes a second point for nothing', () => expect(give('one point two point').text).toBe('1.2'));
	it('turns the sign with "minus", whenever it is said', () => expect(valueOf(give('five minus'))).toBe(-5));
	it('is no number while only a sign or a point stands', () => {
		expect(valueOf(give('minus'))).toBeNull();
		expect(valueOf(give('point'))).toBeNull();
	});
	it('keeps what was said for the record', () => expect(give('four correct five').raw).toBe('four correct five'));
	it('is null or finite after any tokens', () => {
		const token = fc.constantFrom<NumberToken>('0', '1', '9', '.', '-', 'correct', 'clear');
		fc.assert(
			fc.property(fc.array(token, { maxLength: 40 }), (tokens) => {
				const value = valueOf(tokens.reduce((entry, t) => enter(entry, t, t), emptyEntry));
				return value === null || Number.isFinite(value);
			}),
			{ seed: 7 }
		);
	});
});
