import { describe, expect, it } from 'vitest';
import { createForecast } from '$lib/timing/forecast';
import type { PlannedProcedure, RunNow } from '$lib/timing/port';
import { brier, coverageOf, judge, reliability } from './forecast-calibration';
import { asPastRun, createWorld, momentOf, shippedVisit } from './forecast-world';

const visit = shippedVisit();
const world = createWorld(visit, 3);
const past = Array.from({ length: 6 }, (_, index) => asPastRun(visit, world.walk(index % 2 ? 'a' : 'b'), `${index}`));
const { now } = momentOf(visit, world.walk('a'), 0.4, 0.5);
const booked: RunNow = { ...now, bookingEndAtMs: 4 * 3_600_000 };

describe('the forecast of the shipped visit', () => {
	// Truth: tests/simulation/forecast-world.ts. The wanted .70 to .90 are measured on many worlds by tests/bench/timing.bench.ts; 60 worlds
	// have a standard error of √(0.16/60) = .052, so that the bounds lie three of them about .80
	it.each([1, 3, 10])('covers the truth about as often as it says, after %i runs of one operator', (ownRuns) => {
		const coverage = coverageOf(judge(visit, ownRuns, 60, 2, 5000 + 100 * ownRuns));
		expect(coverage).toBeGreaterThan(0.645);
		expect(coverage).toBeLessThan(0.955);
	});

	it('says probabilities of being done in time that are better than the base rate and hold in the outer bins', () => {
		const judged = judge(visit, 3, 20, 8, 9000);
		const { score, baseRate } = brier(judged);
		expect(score).toBeLessThan(0.6 * baseRate);
		const bins = reliability(judged);
		expect(bins[0]!.happened).toBeLessThan(0.15);
		expect(bins[9]!.happened).toBeGreaterThan(0.85);
	});

	it('gives the same numbers for the same seed, and the same whether runs come one by one or all at once', () => {
		const whole = createForecast(visit, past);
		const grown = createForecast(visit, past.slice(0, 2));
		grown.forecast(booked);
		for (const run of past.slice(2)) grown.addRun(run);
		expect(grown.forecast(booked)).toEqual(whole.forecast(booked));
		expect(whole.forecast(booked)).toEqual(whole.forecast(booked));
		expect(whole.forecast(booked, { seed: 2 }).run.p50Ms).not.toBe(whole.forecast(booked).run.p50Ms);
	});

	it('fits better the later the booking ends, and the latest starts follow the booking and the order of stages', () => {
		const forecaster = createForecast(visit, past);
		const fits = [2, 3, 4, 6, 9].map(
			(hours) => forecaster.forecast({ ...now, bookingEndAtMs: hours * 3_600_000 }).fits!
		);
		expect([...fits].sort((a, b) => a - b)).toEqual(fits);
		const starts = forecaster.forecast(booked).stages.map((stage) => stage.latestStartAtMs!);
		expect([...starts].sort((a, b) => a - b)).toEqual(starts);
		const later = forecaster.forecast({ ...booked, bookingEndAtMs: booked.bookingEndAtMs! + 60_000 });
		expect(later.stages.at(-1)!.latestStartAtMs! - starts.at(-1)!).toBeCloseTo(60_000, 6);
		expect(forecaster.forecast(booked, { surety: 0.99 }).stages.at(-1)!.latestStartAtMs!).toBeLessThan(starts.at(-1)!);
	});

	it('offers the optional stage to be left out, which raises the probability', () => {
		const told = createForecast(visit, past).forecast(booked);
		expect(told.leaveOut.map((entry) => entry.stages)).toEqual([['thin']]);
		expect(told.leaveOut[0]!.fits).toBeGreaterThan(told.fits!);
	});

	it('a step that has lasted beyond its usual time is expected to go on longer, and today to be slower', () => {
		const forecaster = createForecast(visit, past);
		const at = (elapsedMs: number) => forecaster.forecast({ ...now, running: { ...now.running!, elapsedMs } });
		const usual = at(0).step!.p50Ms;
		expect(at(usual / 4).step!.p50Ms).toBeLessThan(usual);
		expect(at(8 * usual).step!.p50Ms).toBeGreaterThan(at(usual).step!.p50Ms);
		const rest = (elapsedMs: number) => at(elapsedMs).stages.at(-1)!.left.p50Ms;
		expect(rest(8 * usual)).toBeGreaterThan(rest(0));
	});
});

describe('what it learns, on a procedure of three steps', () => {
	const small: PlannedProcedure = {
		id: 'small',
		stages: [{ id: 's' }, { id: 'o', optional: true }],
		steps: [
			{ path: 's/a', stage: 's', plannedMs: 60_000 },
			{ path: 's/b', stage: 's', plannedMs: 60_000 },
			{ path: 'o/c', stage: 'o', plannedMs: 600_000 }
		]
	};
	const start: RunNow = { operator: 'me', nowAtMs: 0, done: [], toCome: small.steps.slice(0, 2) };
	const run = (id: string, operator: string, durations: readonly number[], more: object = {}) => ({
		id,
		procedure: 'small',
		operator,
		startedAtMs: 0,
		outcome: 'complete' as const,
		steps: durations.map((durationMs, index) => ({ path: small.steps[index]!.path, visit: 1, durationMs })),
		...more
	});
	const many = (count: number, make: (index: number) => ReturnType<typeof run>) =>
		Array.from({ length: count }, (_, index) => make(index));

	it('rests on the plan first, then on what was walked', () => {
		const bare = createForecast(small, []).forecast(start);
		expect(bare.basis.kind).toBe('plan');
		expect(bare.run.p10Ms).toBeLessThan(120_000);
		expect(bare.run.p90Ms).toBeGreaterThan(120_000);
		const slow = createForecast(
			small,
			many(6, (index) => run(`${index}`, 'me', [180_000, 180_000]))
		).forecast(start);
		expect(slow.basis).toEqual({ kind: 'own', ownRuns: 6, groupRuns: 6 });
		expect(slow.run.p50Ms).toBeGreaterThan(270_000);
		expect(slow.run.p90Ms / slow.run.p10Ms).toBeLessThan(bare.run.p90Ms / bare.run.p10Ms);
	});

	it('tells operators apart, and a slow start of the run from a quick one', () => {
		const history = many(16, (index) =>
			run(`${index}`, index % 2 ? 'me' : 'you', index % 2 ? [90_000, 90_000] : [60_000, 60_000])
		);
		const forecaster = createForecast(small, history);
		expect(forecaster.forecast(start).run.p50Ms).toBeGreaterThan(
			1.1 * forecaster.forecast({ ...start, operator: 'you' }).run.p50Ms
		);
		const after = (durationMs: number) =>
			forecaster.forecast({ ...start, done: [{ path: 's/a', visit: 1, durationMs }], toCome: small.steps.slice(1, 2) })
				.run.p50Ms;
		expect(after(150_000)).toBeGreaterThan(after(60_000));
	});

	it('takes an aborted step as "at least so long", and does not throw it away', () => {
		const whole = many(4, (index) => run(`${index}`, 'me', [60_000, 60_000]));
		const aborted = many(4, (index) =>
			run(`x${index}`, 'me', [], {
				outcome: 'aborted',
				steps: [{ path: 's/a', visit: 1, durationMs: 200_000, censored: true }]
			})
		);
		const with_ = createForecast(small, [...whole, ...aborted]).forecast(start).run.p50Ms;
		const without = createForecast(small, whole).forecast(start).run.p50Ms;
		const ended = createForecast(small, [
			...whole,
			...aborted.map((each) => ({ ...each, steps: [{ path: 's/a', visit: 1, durationMs: 200_000 }] }))
		]);
		expect(with_).toBeGreaterThan(without);
		expect(with_).toBeGreaterThan(ended.forecast(start).run.p50Ms);
	});

	it('learns how often the optional stage is left out, that steps are walked again, and what troubles cost', () => {
		const ask = { ...start, toCome: small.steps };
		const median = (history: ReturnType<typeof many>) => createForecast(small, history).forecast(ask).run.p50Ms;
		const plain = [60_000, 60_000, 600_000];
		const always = median(many(12, (index) => run(`${index}`, 'me', plain)));
		expect(median(many(12, (index) => run(`${index}`, 'me', plain.slice(0, 2))))).toBeLessThan(0.4 * always);
		const looped = many(12, (index) => {
			const once = run(`${index}`, 'me', plain);
			return {
				...once,
				steps: [
					...once.steps,
					{ path: 's/b', visit: 2, durationMs: 60_000 },
					{ path: 's/b', visit: 3, durationMs: 60_000 }
				]
			};
		});
		expect(median(looped)).toBeGreaterThan(always + 60_000);
		const troubled = many(12, (index) =>
			run(`${index}`, 'me', plain, { troubles: [{ id: 't', path: 's/b', durationMs: 900_000 }] })
		);
		expect(median(troubled)).toBeGreaterThan(always + 400_000);
	});
});
