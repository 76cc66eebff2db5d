import { describe, expect, it } from 'vitest';
import { smallVisit, withStep } from '../../../tests/fixtures/small-visit';
import { nextOnSafePath, safePath } from './safe-path';

const visit = smallVisit();
const parts = { probe: 'out', stage: 'grid', tip: 'slot1', slot1: 'empty', beams: 'on', lock: 'pumped' };
const from = (step: string | null, more: Partial<typeof parts> = {}) => ({ step, parts: { ...parts, ...more }, settings: {}, frames: null });

describe('the safe path (R11)', () => {
	it('joins the walk at the entry from which the end is nearest', () => {
		expect(nextOnSafePath(visit, from('lift/look'))).toBe('return/go');
		expect(safePath(visit, from('lift/look'))?.steps.map(({ step }) => step)).toEqual([
			'return/go', 'return/insert', 'return/release', 'return/withdraw', 'unload/beams', 'unload/go'
		]);
	});

	it('adds up the planned time of its steps', () => {
		expect(safePath(visit, from('lift/look'))?.plannedMs).toBe(6 * 60_000);
	});

	it('follows the flow where no entry is open', () => {
		expect(nextOnSafePath(visit, from('pick/withdraw', { probe: 'in', stage: 'slot' }))).toBe('return/release');
		const closed = smallVisit({ steps: withStep('return/release', (step) => ({ ...step, entry: false })) });
		expect(nextOnSafePath(closed, from('pick/withdraw', { probe: 'in', stage: 'slot' }))).toBe('pick/withdraw');
	});

	it('says that the end is reached, when it is', () => {
		expect(nextOnSafePath(visit, from(null, { tip: 'none', slot1: 'full', beams: 'off', stage: 'exchange' }))).toBe('safe end');
	});

	it('never enters a step whose requirement would not hold', () => {
		expect(nextOnSafePath(visit, from('unload/vent', { tip: 'none', slot1: 'full' }))).toBe('unload/beams');
	});

	it('says when there is no way', () => {
		expect(nextOnSafePath(visit, from(null, { slot1: 'unknown', probe: 'in', stage: 'exchange' }))).toBeNull();
	});

	it('goes back out of open troubles and names those still open', () => {
		const closed = smallVisit({ steps: (steps) => steps.map((step) => ({ ...step, entry: step.path === 'return/go' })) });
		const open = { trouble: 'slipped', from: 'pick/grip', outer: null };
		const path = safePath(closed, { ...from('trouble:slipped/open', { probe: 'in', stage: 'slot', tip: 'none', slot1: 'full' }), frames: open });
		expect(path?.steps.slice(0, 3)).toEqual([
			{ step: 'trouble:slipped/open', plannedMs: 60_000, frames: open },
			{ step: 'pick/grip', plannedMs: 60_000, frames: null },
			{ step: 'pick/withdraw', plannedMs: 60_000, frames: null }
		]);
	});

	it('counts on another outcome than the plain one only where nothing else leads out, and says so', () => {
		const stuck = smallVisit({
			steps: withStep('lift/look', (step) => ({ ...step, outcomes: [...step.outcomes].reverse() }))
		});
		const noEntry = { ...stuck, steps: Object.fromEntries(Object.entries(stuck.steps).map(([path, step]) => [path, { ...step, entry: false }])) };
		expect(safePath(noEntry, from('lift/look'))?.byLuck).toBe(true);
		expect(safePath(visit, from('lift/look'))?.byLuck).toBe(false);
	});
});
