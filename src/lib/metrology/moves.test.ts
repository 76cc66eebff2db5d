import { describe, expect, it } from 'vitest';
import { moveText } from '$lib/session/move-words';
import { sumText } from '$lib/session/sum-words';
import { judgeRounds, moves } from './moves';

const um = 1e-6;
const deg = Math.PI / 180;

describe('half-difference', () => {
	it('M1 moves the jaws by half the difference, towards the larger gap as the jaws see it', () => {
		const told = moves['half-difference'].reckon(
			{ gapLeft: { value: 30 * um, uncertainty: 3 * um }, gapRight: { value: 10 * um, uncertainty: 4 * um } },
			{ signs: { probeX: -1 }, toleranceM: 2 * um }
		);
		if (told.refused !== undefined) throw new Error(told.refused[0]?.key);
		expect(told.errorM).toBeCloseTo(10 * um, 12);
		expect(told.uncertaintyM).toBeCloseTo(2.5 * um, 12);
		expect(told.move).toMatchObject({ axis: 'probeX', direction: 'right', sign: -1 });
		expect(told.toleranceShare).toBeCloseTo(5, 9);
		expect(moveText(told.words[0]!)).toBe('Probe X right 10 µm, then look again.');
	});
	it('M2 moves the stage the other way than the jaws', () => {
		const told = moves['half-difference'].reckon(
			{ gapLeft: { value: 30 * um }, gapRight: { value: 10 * um } },
			{ axis: 'stageX', signs: { stageX: 1 } }
		);
		expect(told).toMatchObject({ move: { direction: 'left', sign: -1 } });
	});
	it('M3 takes at most half the smaller gap while the sign has not been tried, and says so', () => {
		const told = moves['half-difference'].reckon(
			{ gapLeft: { value: 30 * um }, gapRight: { value: 10 * um } },
			{ toleranceM: um }
		);
		expect(told).toMatchObject({ move: { sign: null, amountM: 5 * um, correctsM: 5 * um } });
		if (told.refused === undefined) expect(told.words.map(({ key }) => key)).toContain('moveCapped');
	});
	it('M4 refuses a negative gap and a missing one by name', () => {
		expect(moves['half-difference'].reckon({ gapLeft: { value: -um }, gapRight: { value: um } }, {}).refused).toMatchObject([
			{ key: 'outOfRange', parameters: { input: 'gapLeft', value: '−1 µm', least: '0 µm', most: '5000 µm' } }
		]);
		expect(moves['half-difference'].reckon({ gapLeft: { value: um } }, {}).refused).toMatchObject([
			{ key: 'quantityMissing', parameters: { input: 'gapRight' } }
		]);
	});
});

describe('height from the ion view', () => {
	it('M5 says stage down only where it is known which number is down', () => {
		const reading = { shift: { value: -30 * um } };
		const known = moves['height-from-ion-shift'].reckon(reading, {
			columnAngleRad: 52 * deg,
			signs: { stageZ: -1, stageZRaises: 1 }
		});
		if (known.refused !== undefined) throw new Error(known.refused[0]?.key);
		expect(moveText(known.words[0]!)).toBe('Stage Z down 38.1 µm, then look again.');
		const half = moves['height-from-ion-shift'].reckon(reading, { columnAngleRad: 52 * deg, signs: { stageZ: -1 } });
		if (half.refused !== undefined) throw new Error(half.refused[0]?.key);
		expect(moveText(half.words[0]!)).toBe('Stage Z −38.1 µm (picture goes up in the ion view), then look again.');
	});
	it('M6 refuses without a column angle, and questions a move beyond the view', () => {
		expect(moves['height-from-ion-shift'].reckon({ shift: { value: um } }, {}).refused?.map((words) => sumText(words))).toEqual([
			'“column angle” is missing; expected 5° to 85° (°, deg, mrad or rad).'
		]);
		const told = moves['height-from-ion-shift'].reckon(
			{ shift: { value: 300 * um } },
			{ columnAngleRad: 52 * deg, viewHalfM: 100 * um }
		);
		expect(told).toMatchObject({ questioned: { key: 'beyondView' } });
	});
});

describe('rounds', () => {
	const limits = { toleranceM: 1, allowedRounds: 3 };
	it('M7 goes on, converges, or uses its rounds up', () => {
		expect(judgeRounds([], limits).state).toBe('go on');
		expect(judgeRounds([{ errorM: 10, correctsM: 10 }, { errorM: -0.5 }], limits)).toEqual({
			state: 'converged',
			rounds: 2
		});
		const slow = [{ errorM: 10, correctsM: 10 }, { errorM: 5, correctsM: 5 }, { errorM: 2 }];
		expect(judgeRounds(slow, limits).state).toBe('rounds used up');
	});
	it('M8 tells a wrong sign in round 2', () => {
		expect(judgeRounds([{ errorM: 10, correctsM: 10 }, { errorM: 20 }], limits)).toEqual({
			state: 'grows',
			round: 2,
			response: -1,
			wrongSign: true
		});
		expect(judgeRounds([{ errorM: 10, correctsM: 10 }, { errorM: 11 }], limits)).toMatchObject({
			state: 'grows',
			wrongSign: false
		});
	});
	it('M9 an overshoot that is smaller than before is no growth', () => {
		expect(judgeRounds([{ errorM: 10, correctsM: 10 }, { errorM: -4 }], limits).state).toBe('go on');
		expect(judgeRounds([{ errorM: 10, correctsM: 10 }, { errorM: -14 }], limits)).toMatchObject({
			state: 'grows',
			wrongSign: false
		});
	});
	it('M10 refuses limits that mean nothing', () => {
		expect(() => judgeRounds([], { toleranceM: 0, allowedRounds: 3 })).toThrow(RangeError);
	});
});
