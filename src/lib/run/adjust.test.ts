import { describe, expect, it } from 'vitest';
import { benchEdition } from '../../../tests/simulation/bench-edition';
import { Walk } from '../../../tests/simulation/walk';
import type { Signs } from '$lib/metrology/axes';
import type { InstrumentUsed } from '$lib/metrology/instrument';
import { judgeLoop } from './adjust';
import { movesTold } from './moves-told';

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
/** The same walk once the journal says what is known of the instrument. */
function judged(walk: Walk, instrument: InstrumentUsed) {
	walk.give({ id: 'details', instrument });
	return judgeLoop(walk.state);
}
const keys = (walk: Walk, signs: Signs = {}) => judged(walk, { signs })?.told.map(({ key }) => key);

describe('AJ an adjust loop in a run', () => {
	it('AJ1 uses the instrument’s signs', () => {
		const walk = loopOf([10, 2]);
		expect(keys(walk)).toContain('moveUntried');
		expect(keys(walk, { probeX: -1 })).toContain('move');
		expect(judged(walk, { signs: { probeX: -1 } })?.move?.move).toMatchObject({ axis: 'probeX', direction: 'right', sign: -1 });
	});
	it('AJ2 shows how it converges', () => {
		expect(judgeLoop(loopOf([10, 2], [8, 4]).state)?.shares).toEqual([expect.closeTo(4, 9), expect.closeTo(2, 9)]);
	});
	it('AJ3 tells a wrong sign in the second round, and takes it the other way from then on', () => {
		// asked to go 2 right, it went 2 left: off by 4 instead of 0
		const walk = loopOf([8, 4], [10, 2]);
		const told = judged(walk, { signs: { probeX: 1 } });
		expect(told?.told[0]).toMatchObject({ key: 'wrongSign', params: { axis: 'probeX', round: 2 } });
		expect(told?.move?.move.sign).toBe(-1);
	});
	it('AJ4 an error that overshoots and grows is told as another fault', () => {
		// asked for 2, 20 came: a unit or a scale
		expect(judged(loopOf([8, 4], [2, 20]), { signs: { probeX: 1 } })?.told[0]?.key).toBe('errorGrows');
	});
	it('AJ5 asks about a move that is larger than the limit, and holds it back', () => {
		const told = judged(loopOf([10, 2]), { signs: { probeX: 1 }, limitM: 1e-6 });
		expect(told?.told.map(({ key }) => key)).toEqual(['beyondLimit']);
	});
	it('R28 the journal alone tells each move again, by what was known of the instrument at its time', () => {
		const walk = loopOf();
		const told: (readonly string[] | undefined)[] = [];
		const read = (left: number, right: number) => {
			walk.read(left);
			walk.read(right);
			told.push(judgeLoop(walk.state)?.told.map(({ key }) => key));
		};
		read(10, 2);
		walk.give({ id: 'details', instrument: { signs: { probeX: -1 } } });
		read(9, 3);
		expect(told[0]).toContain('moveUntried');
		expect(told[1]).toContain('move');
		const again = movesTold(walk.events);
		expect(again.map((round) => round.told.map(({ key }) => key))).toEqual(told);
		expect(again.map(({ round, instrumentKnown, move }) => [round, instrumentKnown, move?.move.sign])).toEqual([
			[1, false, null],
			[2, true, -1]
		]);
	});
	it('R28 taking a reading back leaves what is known of the instrument', () => {
		const walk = loopOf();
		walk.read(10);
		walk.give({ id: 'details', instrument: { limitM: 1e-6 } });
		walk.give({ id: 'back' });
		expect(walk.state.readings).toEqual({});
		expect(walk.state.instrument).toEqual({ limitM: 1e-6 });
	});
});
