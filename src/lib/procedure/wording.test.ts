import { describe, expect, it } from 'vitest';
import { danger, en } from '../../../tests/fixtures/build-edition';
import { smallVisit, withStep } from '../../../tests/fixtures/small-visit';
import { wordingHints } from './wording';

const hints = (full: string, what = 'The part breaks.') =>
	wordingHints(smallVisit({ steps: withStep('load/beams', (step) => ({ ...step, hazard: { ...danger, what: en(what) }, words: { en: { full, short: '', spoken: '', look: '' } } })) })).map(({ rule, at }) => [rule, at]);

describe("the writers' rules", () => {
	it('lets a plain instruction, a question behind it and a condition before it pass', () => {
		expect(hints('Switch the beams on.')).toEqual([]);
		expect(hints('Look at the post. Is it straight?')).toEqual([]);
		expect(hints('If the beams are off, switch them on.')).toEqual([]);
		expect(hints('Centre the slot with stage X and Y.')).toEqual([]);
	});
	it('wants the imperative first', () => {
		expect(hints('The beams are switched on.')).toEqual([['imperative first', 'load/beams']]);
		expect(hints('Are the beams on?')).toEqual([['imperative first', 'load/beams']]);
	});
	it('wants one action', () => {
		for (const two of ['Open and close the jaws.', 'Open the valve and start the pump.', 'Open the valve, then close the lock.', 'Open the valve. Wait a minute.'])
			expect(hints(two)).toEqual([['one action', 'load/beams']]);
	});
	it('wants at most 20 words in a sentence', () => {
		expect(hints(`Switch ${'very '.repeat(18)}on.`)).toEqual([]);
		expect(hints(`Switch ${'very '.repeat(19)}on.`)).toEqual([['twenty words', 'load/beams']]);
	});
	it('wants no action in a warning', () => {
		expect(hints('Switch the beams on.', 'Keep your hands away from the cover.')).toEqual([['no action in a warning', 'load/beams#hazard']]);
		expect(hints('Switch the beams on.', 'Pressure behind a stuck door can throw it open.')).toEqual([]);
		expect(hints('Switch the beams on.', 'Press fits can break.')).toEqual([]);
	});
	it('has nothing to say about the small visit', () => {
		expect(wordingHints(smallVisit())).toEqual([]);
	});
});
