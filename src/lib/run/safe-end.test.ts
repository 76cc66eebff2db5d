import { describe, expect, it } from 'vitest';
import { smallVisit } from '../../../tests/fixtures/small-visit';
import { Walk } from '../../../tests/simulation/walk';

describe('a trouble that leads to the safe end', () => {
	it('R11: leads on through the step in which it was called, where no entry is open', () => {
		const closed = smallVisit({ steps: (steps) => steps.map((step) => ({ ...step, entry: step.path === 'return/release' })) });
		const walk = Walk.begin(closed);
		for (let i = 0; walk.state.step !== 'pick/go' && i < 10; i++) {
			if (walk.state.edition.steps[walk.state.step]?.hazard) walk.give({ id: 'confirm' });
			walk.next();
		}
		walk.give({ id: 'trouble', trouble: 'time' });
		expect(walk.state).toMatchObject({ step: 'pick/go', ending: true, frames: null, contradictions: null, status: 'running' });
		walk.next();
		expect(walk.state.step).toBe('pick/insert');
	});
});
