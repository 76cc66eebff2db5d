import { describe, expect, it } from 'vitest';
import { benchEdition } from '../../../tests/simulation/bench-edition';
import { Walk } from '../../../tests/simulation/walk';
import { judgeLoop } from './adjust';

/** Gaps of 10 and x µm are (10 − x)/2 off; the step allows 1 µm and three rounds. */
function loopOf(...rounds: readonly (readonly [left: number, right: number])[]): Walk {
	const walk = Walk.begin(benchEdition());
	for (let i = 0; walk.state.step !== 'look/centre' && i < 30; i++) {
		if (walk.state.step === 'look/choose') walk.answer('first');
		else if (walk.state.step === 'look/measure') for (const value of [10, 5]) walk.read(value);
		else walk.next();
	}
	for (const [left, right] of rounds) {
		walk.read(left);
		walk.read(right);
	}
	return walk;
}
const keys = (walk: Walk, signs = {}) => judgeLoop(walk.state, { signs })?.told.map(({ key }) => key);

describe('AJ an adjust loop in a run', () => {
	it('AJ1 uses the instrument’s signs', () => {
		const walk = loopOf([10, 2]);
		expect(keys(walk)).toContain('moveUntried');
		expect(keys(walk, { probeX: -1 })).toContain('move');
		expect(judgeLoop(walk.state, { signs: { probeX: -1 } })?.move?.move).toMatchObject({ axis: 'probeX', direction: 'right', sign: -1 });
	});
	it('AJ2 shows how it converges', () => {
		expect(judgeLoop(loopOf([10, 2], [8, 4]).state)?.shares).toEqual([expect.closeTo(4, 9), expect.closeTo(2, 9)]);
	});
	it('AJ3 tells a wrong sign in the second round, and takes it the other way from then on', () => {
		// asked to go 2 right, it went 2 left: off by 4 instead of 0
		const walk = loopOf([8, 4], [10, 2]);
		const judged = judgeLoop(walk.state, { signs: { probeX: 1 } });
		expect(judged?.told[0]).toMatchObject({ key: 'wrongSign', params: { axis: 'probeX', round: 2 } });
		expect(judged?.move?.move.sign).toBe(-1);
	});
	it('AJ4 an error that overshoots and grows is told as another fault', () => {
		// asked for 2, 20 came: a unit or a scale
		expect(judgeLoop(loopOf([8, 4], [2, 20]).state, { signs: { probeX: 1 } })?.told[0]?.key).toBe('errorGrows');
	});
	it('AJ5 asks about a move that is larger than the limit, and holds it back', () => {
		const judged = judgeLoop(loopOf([10, 2]).state, { signs: { probeX: 1 }, limitM: 1e-6 });
		expect(judged?.told.map(({ key }) => key)).toEqual(['beyondLimit']);
	});
});
