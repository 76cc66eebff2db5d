import { describe, expect, it } from 'vitest';
import { createMeanForecast } from './mean-forecast';
import { probabilityWithin, type PastRun, type PlannedProcedure, type RunNow } from './port';

const procedure: PlannedProcedure = {
	id: 'visit',
	stages: [{ id: 'load' }, { id: 'thin', optional: true }, { id: 'unload' }],
	steps: [
		{ path: 'load/seat', stage: 'load', plannedMs: 60_000 },
		{ path: 'load/close', stage: 'load', plannedMs: 60_000 },
		{ path: 'thin/thin', stage: 'thin', plannedMs: 600_000 },
		{ path: 'unload/vent', stage: 'unload', plannedMs: 300_000 }
	]
};
const start: RunNow = { operator: 'a', nowAtMs: 0, done: [], toCome: procedure.steps };
const run = (id: string, seatMs: number, closeMs: number): PastRun => ({
	id,
	procedure: 'visit',
	operator: 'a',
	startedAtMs: 0,
	outcome: 'complete',
	steps: [
		{ path: 'load/seat', visit: 1, durationMs: seatMs },
		{ path: 'load/close', visit: 1, durationMs: closeMs }
	]
});

describe('the mean forecast', () => {
	it('rests on the plan while there is no run: its median lies a little below the planned sum, its P10 and P90 around it', () => {
		const { run: left, basis, fits } = createMeanForecast(procedure, []).forecast(start);
		expect(left.p10Ms).toBeLessThan(left.p50Ms);
		expect(left.p50Ms).toBeGreaterThan(900_000);
		expect(left.p50Ms).toBeLessThan(1_020_000);
		expect(left.p90Ms).toBeGreaterThan(1_020_000);
		expect(basis).toEqual({ kind: 'plan', ownRuns: 0, groupRuns: 0 });
		expect(fits).toBeUndefined();
	});

	it('takes the means of the runs on the device once there are any, and adding a run equals starting with it', () => {
		const made = createMeanForecast(procedure, [run('1', 120_000, 30_000)]);
		const before = made.forecast(start).run.p50Ms;
		made.addRun(run('2', 200_000, 30_000));
		const after = made.forecast(start);
		expect(after.run.p50Ms).toBeGreaterThan(before);
		expect(after).toEqual(
			createMeanForecast(procedure, [run('1', 120_000, 30_000), run('2', 200_000, 30_000)]).forecast(start)
		);
		expect(after.basis.kind).toBe('own');
	});

	it('conditions on the time already spent: a step beyond its usual time has more left than nothing', () => {
		const made = createMeanForecast(procedure, []);
		const at = (elapsedMs: number) =>
			made.forecast({
				...start,
				running: { path: 'load/seat', visit: 1, elapsedMs },
				toCome: procedure.steps.slice(1)
			});
		expect(at(30_000).run.p50Ms).toBeLessThan(at(0).run.p50Ms);
		expect(at(300_000).step!.p50Ms).toBeGreaterThan(0);
		expect(at(300_000).stages[0]).toMatchObject({ stage: 'load', running: true });
	});

	it('states the latest start of each stage, the probability that all fits, and that thinning is what can be left out', () => {
		const made = createMeanForecast(procedure, []);
		const told = made.forecast({ ...start, bookingEndAtMs: 1_000_000 });
		const [load, thin, unload] = told.stages;
		expect([load!.stage, thin!.stage, unload!.stage]).toEqual(['load', 'thin', 'unload']);
		expect(load!.latestStartAtMs!).toBeLessThan(thin!.latestStartAtMs!);
		expect(thin!.latestStartAtMs!).toBeLessThan(unload!.latestStartAtMs!);
		expect(unload!.latestStartAtMs!).toBeCloseTo(1_000_000 - unload!.fromHereToEnd.p90Ms, 6);
		expect(told.leaveOut.map((entry) => entry.stages)).toEqual([['thin']]);
		expect(told.leaveOut[0]!.fits).toBeGreaterThan(told.fits!);
		expect(probabilityWithin(told, 1_000_000)).toBeCloseTo(told.fits!, 2);
	});

	it('has nothing left when nothing is to come', () => {
		const told = createMeanForecast(procedure, []).forecast({ ...start, toCome: [], bookingEndAtMs: 1 });
		expect(told.run).toEqual({ p10Ms: 0, p50Ms: 0, p90Ms: 0 });
		expect(told.fits).toBe(1);
		expect(told.stages).toEqual([]);
	});

	it('refuses a run of another procedure, a run it knows already and a negative duration, saying which', () => {
		const made = createMeanForecast(procedure, [run('1', 1000, 1000)]);
		expect(() => made.addRun(run('1', 1000, 1000))).toThrow('run "1": already in the history');
		expect(() => made.addRun({ ...run('2', 1, 1), procedure: 'other' })).toThrow(
			'expected procedure "visit", got "other"'
		);
		expect(() => made.addRun(run('3', -1, 1))).toThrow(
			'run "3", step "load/seat": expected a duration of at least 0 ms, got -1'
		);
	});
});
