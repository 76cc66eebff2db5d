import { describe, expect, it } from 'vitest';
import { Judge, type Spike } from './decoder';

const LOGIT_OF = (p: number) => Math.log(p / (1 - p));
/** A spike that is `sure` of its word (a probability), at a step. */
const spike = (word: string, sure: number, step: number): Spike => ({ word, evidence: [LOGIT_OF(sure)], peakStep: step, endStep: step, shares: [] });
const weighing = { weights: [1, 0], threshold: { digit: 0.6, nextDigit: 0.2, stop: 0.3, word: 0.5, phrase: 0.9 } };
const decided = (...spikes: Spike[]) => {
	const judge = new Judge(weighing);
	return spikes.map((one) => judge.judge(one).decided);
};

describe('V9 how sure is sure enough', () => {
	it('tells the confidence as weighed', () => {
		expect(new Judge(weighing).judge(spike('yes', 0.7, 3)).confidence).toBeCloseTo(0.7);
	});
	it('goes by the kind of word', () => {
		expect(decided(spike('stop', 0.31, 0), spike('yes', 0.31, 20), spike('yes', 0.51, 40), spike('step back', 0.51, 60), spike('step back', 0.91, 80))).toEqual([true, false, true, false, true]);
	});
	it('asks less of a digit within a second of another, and no longer', () => {
		expect(decided(spike('four', 0.61, 0), spike('point', 0.21, 12), spike('two', 0.21, 24), spike('five', 0.21, 37))).toEqual([true, true, true, false]);
	});
	it('asks no less after a digit that was not decided on, nor after another word, nor of another word', () => {
		expect(decided(spike('four', 0.5, 0), spike('two', 0.5, 6))).toEqual([false, false]);
		expect(decided(spike('yes', 0.9, 0), spike('two', 0.5, 6))).toEqual([true, false]);
		expect(decided(spike('four', 0.9, 0), spike('yes', 0.3, 6))).toEqual([true, false]);
	});
	it('forgets the digit when reset', () => {
		const judge = new Judge(weighing);
		judge.judge(spike('four', 0.9, 10));
		expect(judge.judge(spike('two', 0.3, 15)).decided).toBe(true);
		judge.reset();
		expect(judge.judge(spike('two', 0.3, 16)).decided).toBe(false);
	});
});
