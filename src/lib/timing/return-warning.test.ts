import { describe, expect, it } from 'vitest';
import type { Forecast, LeaveOut } from './port';
import { returnWarning, WARN_AHEAD_MS } from './return-warning';

const left = { p10Ms: 0, p50Ms: 0, p90Ms: 0 };
const HOUR = 3_600_000;

function forecast({ latestStartAtMs = 5 * HOUR, inTime = 0.95, running = false, leaveOut = [] as readonly LeaveOut[], fits = 0.5 } = {}): Forecast {
	const stage = { stage: 'return', running, left, beginsIn: left, fromHereToEnd: left, latestStartAtMs, inTime };
	return { stages: [stage], run: left, leftMs: [], fits, leaveOut, surety: 0.9, basis: { kind: 'plan', ownRuns: 0, groupRuns: 0 } };
}
const out = (stages: readonly string[], fits: number): LeaveOut => ({ stages, left, fits });

describe('F7 the warning before the latest start of the return', () => {
	it('is silent while the latest start is far off and likely to be met', () => expect(returnWarning(null, forecast(), 0, 'return')).toBeNull());
	it('comes 20 minutes ahead, not before', () => {
		expect(returnWarning(null, forecast(), 5 * HOUR - WARN_AHEAD_MS - 1000, 'return')).toBeNull();
		expect(returnWarning(null, forecast(), 5 * HOUR - WARN_AHEAD_MS, 'return')?.kind).toBe('near');
	});
	it('comes as soon as the return is more likely to be late than not', () => {
		expect(returnWarning(null, forecast({ inTime: 0.5 }), 0, 'return')).toBeNull();
		expect(returnWarning(null, forecast({ inTime: 0.49 }), 0, 'return')?.kind).toBe('likely late');
	});
	it('does not flicker: once raised it stays until the return begins in time at the stated probability', () => {
		const raised = returnWarning(null, forecast({ inTime: 0.4 }), 0, 'return');
		expect(returnWarning(raised, forecast({ inTime: 0.7 }), 0, 'return')).not.toBeNull();
		expect(returnWarning(raised, forecast({ inTime: 0.91 }), 0, 'return')).toBeNull();
	});
	it('goes when the return has begun, and without a booking there is none', () => {
		expect(returnWarning(null, forecast({ running: true, inTime: 0 }), 6 * HOUR, 'return')).toBeNull();
		const { latestStartAtMs: _, inTime: __, ...bare } = forecast().stages[0]!;
		expect(returnWarning(null, { ...forecast(), stages: [bare] }, 6 * HOUR, 'return')).toBeNull();
	});
	it('offers to leave nothing out of a visit that fits as it is, nor of one that nothing can make fit', () => {
		const near = { latestStartAtMs: 10 * 60_000, leaveOut: [out(['a'], 0.99)] };
		expect(returnWarning(null, forecast({ ...near, fits: 0.95 }), 0, 'return')).toMatchObject({ kind: 'near', leaveOut: null });
		expect(returnWarning(null, forecast({ ...near, fits: 0.7 }), 0, 'return')?.leaveOut?.stages).toEqual(['a']);
		expect(returnWarning(null, forecast({ inTime: 0, fits: 0, leaveOut: [out(['a'], 0)] }), 0, 'return')?.leaveOut).toBeNull();
	});
	it('tells the fewest stages that make it fit, or that what is left does not do', () => {
		const leaveOut = [out(['a'], 0.7), out(['a', 'b'], 0.93), out(['a', 'b', 'c'], 0.99)];
		expect(returnWarning(null, forecast({ inTime: 0.1, leaveOut }), 0, 'return')?.leaveOut).toMatchObject({ stages: ['a', 'b'], enough: true });
		expect(returnWarning(null, forecast({ inTime: 0.1, leaveOut: leaveOut.slice(0, 1) }), 0, 'return')?.leaveOut).toMatchObject({ stages: ['a'], enough: false });
		expect(returnWarning(null, forecast({ inTime: 0.1, leaveOut: [out(['a'], 0.5)] }), 0, 'return')?.leaveOut).toBeNull();
	});
});
