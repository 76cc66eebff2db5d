import { describe, expect, it } from 'vitest';
import { driftOf, judgeReturn, type Stored } from './storedPositions';

const um = 1e-6;
const at = (visit: number, x: number): Stored => ({
	place: 'at-slot-1',
	run: `r${visit}`,
	at: `2031-01-0${visit + 1}`,
	xM: x * um,
	yM: 0,
	zM: 5 * um
});

describe('stored positions', () => {
	it('SP1 a place that was never visited is questioned', () => {
		expect(judgeReturn(driftOf('at-slot-1', []), { xM: 0, yM: 0, zM: 0 }, 10 * um)).toMatchObject({
			questioned: true,
			reason: 'first visit'
		});
	});
	it('SP2 expects the place where the EWMA stands, and questions a return beyond the tolerance', () => {
		const drift = driftOf('at-slot-1', [at(0, 100), at(1, 110)]);
		// 0.3·110 + 0.7·100 = 103
		expect(drift.expected!.xM / um).toBeCloseTo(103, 9);
		expect(judgeReturn(drift, { xM: 107 * um, yM: 3 * um, zM: 5 * um }, 5.1 * um)).toMatchObject({
			questioned: false,
			reason: 'within'
		});
		const moved = judgeReturn(drift, { xM: 107 * um, yM: 3 * um, zM: 5 * um }, 4.9 * um);
		expect(moved).toMatchObject({ questioned: true, reason: 'moved' });
		expect(moved.offM! / um).toBeCloseTo(5, 9);
	});
	it('SP3 a visit far outside what the visits before it give is a signal', () => {
		const steady = [100, 101, 99, 100, 102, 100].map((x, visit) => at(visit, x));
		expect(driftOf('at-slot-1', steady).axes.x.signal).toBe(false);
		expect(driftOf('at-slot-1', [...steady, at(6, 140)]).axes.x.signal).toBe(true);
		expect(driftOf('at-slot-1', steady.slice(0, 3)).axes.x.signal).toBeNull();
	});
	it('SP4 other places do not count, and a tolerance must be a length', () => {
		expect(driftOf('grid', [at(0, 1)]).visits).toEqual([]);
		expect(() => judgeReturn(driftOf('grid', []), { xM: 0, yM: 0, zM: 0 }, 0)).toThrow(RangeError);
	});
});
