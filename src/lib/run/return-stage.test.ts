import { describe, expect, it } from 'vitest';
import { outcome } from '../../../tests/fixtures/build-edition';
import { smallVisit, withStep } from '../../../tests/fixtures/small-visit';
import { shipped } from '../../../tests/simulation/shipped';
import { returnStageOf } from './return-stage';

const inStage = (id: string) => ({ id, title: { en: id }, short: { en: id }, plannedMs: 0, steps: [`${id}/go`] });

describe('F7 the stage of the return', () => {
	it('is the one whose steps put the tip back into its slot, wherever it stands', () => {
		const visit = smallVisit();
		expect(returnStageOf(visit)).toBe('return');
		// two more stages behind it make it neither the last nor the last but one
		expect(returnStageOf({ ...visit, stages: [...visit.stages, inStage('report'), inStage('clean')] })).toBe('return');
	});
	it('is not a stage in which a tip is only found to have stayed in its slot', () => {
		const stayed = outcome('still in its slot', { tip: 'none', slot1: 'full' }, 'pick/go');
		const visit = smallVisit({ steps: withStep('lift/look', (step) => ({ ...step, outcomes: [...step.outcomes, stayed] })) });
		expect(returnStageOf({ ...visit, stages: visit.stages.filter(({ id }) => id !== 'return') })).toBeNull();
	});
	it('is none where no tip is given back: an empty gripper alone, or a slot filled at the bench', () => {
		const without = (set: Record<string, string>) => returnStageOf(smallVisit({ steps: withStep('return/release', (step) => ({ ...step, outcomes: [outcome('done', set, 'return/withdraw')] })) }));
		expect(without({ tip: 'none' })).toBeNull();
		expect(without({ slot1: 'full' })).toBeNull();
		expect(without({ tip: 'none', slot1: 'unknown' })).toBeNull();
	});
	it('is found in the shipped procedures, by what they do', () => {
		expect(returnStageOf(shipped('lift-out-visit'))).toBe('return');
		expect(returnStageOf(shipped('exchange-tip'))).toBe('return');
		expect(returnStageOf(shipped('bench-loading'))).toBeNull();
	});
});
