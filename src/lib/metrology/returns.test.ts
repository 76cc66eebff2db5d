import { describe, expect, it } from 'vitest';
import { movedBy, type KnownPlaces, stageAxisOf } from './returns';

const um = 1e-6;
const places: KnownPlaces = { toleranceM: 5 * um, expected: { 'at-slot-1': { xM: 100 * um, yM: 0, zM: 20 * um } } };

describe('SR a return to a stored place', () => {
	it('SR1 within the tolerance nothing is asked', () => {
		expect(movedBy(places, 'at-slot-1', {}, 'x', 104 * um)).toBeNull();
		expect(movedBy(places, 'at-slot-1', { x: 103 * um, y: 3 * um }, 'z', 22 * um)).toBeNull();
	});
	it('SR2 the axis that takes it beyond is asked about, with the distance so far', () => {
		expect(movedBy(places, 'at-slot-1', {}, 'x', 107 * um)).toMatchObject({ expectedM: 100 * um, offM: expect.closeTo(7 * um, 12) });
		// 3-4-5: no axis alone, but both together
		expect(movedBy(places, 'at-slot-1', { x: 104 * um }, 'y', 3.1 * um)?.offM).toBeCloseTo(Math.hypot(4, 3.1) * um, 12);
	});
	it('SR3 what was asked once is not asked again at the next axis', () => {
		expect(movedBy(places, 'at-slot-1', { x: 107 * um }, 'y', 0)).toBeNull();
	});
	it('SR4 nothing is asked of a place that nobody stored', () => {
		expect(movedBy(places, 'at-slot-2', {}, 'x', 1)).toBeNull();
		expect(movedBy(places, 'constructor', {}, 'x', 1)).toBeNull();
	});
	it('SR5 knows its readings by name', () => {
		expect(['stage-x', 'stage-z', 'stage-xx', 'shift'].map(stageAxisOf)).toEqual(['x', 'z', null, null]);
	});
});
