import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { seededChance } from '$lib/adapters/chance/seeded-chance';
import { SimulatedClock } from '$lib/adapters/clock/simulated-clock';
import { demoHistory, offsetMinOf } from '$lib/demo/demo-history';
import type { Scenario } from '$lib/procedure/scenario';
import { type RunFacts, runFactsOf } from '$lib/run/run-facts';
import { timelineOf } from '$lib/run/timeline';
import { shipped } from '../../../tests/simulation/shipped';
import { offsetSeries } from './offset-series';
import { personRecords } from './person-record';
import { practisedTimes } from './practised';
import { stepSpreads } from './step-spreads';

const scenario = JSON.parse(readFileSync(new URL('../../../procedures/demo/scenario.json', import.meta.url), 'utf8')) as Scenario;
const text = (localised: Readonly<Record<string, string>>) => localised.en ?? '';
let facts: RunFacts[];
beforeAll(() => {
	const editions = new Map(['lift-out-visit', 'exchange-tip', 'bench-loading'].map((id) => [id, shipped(id)]));
	const world = { clockAt: (start: string, zone: string, boot: string) => new SimulatedClock({ wallMs: Date.parse(start), offsetMin: offsetMinOf(start), zone, boot }), ids: seededChance };
	facts = [...demoHistory(scenario, editions, world)].map(({ events }) => runFactsOf(timelineOf(events))!).filter(({ past }) => past.procedure === 'lift-out-visit');
}, 120_000);

/** The scenario's own visits say what truly happened in them. */
const told = (person: string, start: string) => facts.find(({ past }) => past.operator === person && past.startedAtMs === Date.parse(start))!;

describe('facts of invented runs against what the scenario tells', () => {
	it('F9 a stage with a trouble, and one with a step done again, are not well done', () => {
		const run = told('Ludo Kesterby', '2026-03-04T08:30:00+01:00');
		expect(run.stages.find(({ id }) => id === 'lift-out')?.attempt).toBe('trouble');
		expect(run.stages.find(({ id }) => id === 'return')?.attempt).toBe('well');
		expect(run.supervisor).toBe('Marit Oxlund');
		expect(run.invented).toBe(true);
	});
	it('F9 a stage left out, and the one in which the visit was ended, are no attempts', () => {
		const left = told('Sunniva Praat', '2026-03-06T13:00:00+01:00');
		expect(left.stages.find(({ id }) => id === 'thin')).toMatchObject({ attempt: null, timeMs: null });
		const ended = told('Anneke Trosvik', '2026-03-10T08:30:00+01:00');
		expect(ended.past.outcome).toBe('aborted');
		expect(ended.stages.find(({ id }) => id === 'lift-out')).toMatchObject({ attempt: null, timeMs: null });
	});
	it('keeps stages, pauses and the booking on one scale that ends with the run', () => {
		for (const { stages, endMs, bookingEndMs, pauses } of facts) {
			expect(bookingEndMs).toBeGreaterThan(0);
			for (const { span } of stages) if (span) expect(span.toMs).toBeLessThanOrEqual(endMs);
			for (const pause of pauses) expect(pause.toMs).toBeLessThanOrEqual(endMs);
		}
	});
});

describe('records of people', () => {
	it('list people by name, never by a number, each with their own runs', () => {
		const people = personRecords(facts, text);
		expect(people.map(({ name }) => name)).toEqual(['Anneke Trosvik', 'Ludo Kesterby', 'Marit Oxlund', 'Sunniva Praat', 'Teodor Vance-Ilk']);
		expect(people.reduce((sum, { runs }) => sum + runs.length, 0)).toBe(facts.length);
		expect(people.find(({ name }) => name === 'Ludo Kesterby')?.supervisedBy).toBe('Marit Oxlund');
		expect(people.find(({ name }) => name === 'Teodor Vance-Ilk')?.supervisedBy).toBeNull();
	});
});

describe('times from run to run', () => {
	const of = (person: string, start: string, practised: Parameters<typeof practisedTimes>[1]) => practisedTimes([told(person, start)], practised)[0]?.timeMs ?? null;
	const visit = { of: 'visit' } as const;

	it('of a whole visit are the sum of its stages, and leave out runs ended early or with a stage left out', () => {
		const whole = practisedTimes(facts, visit);
		expect(whole.length).toBeGreaterThan(5);
		for (const { run, timeMs } of whole) {
			const { stages, past } = facts.find((each) => each.run === run)!;
			expect(past.outcome).toBe('complete');
			expect(stages.every((stage) => stage.timeMs !== null)).toBe(true);
			expect(timeMs).toBe(stages.reduce((sum, stage) => sum + (stage.timeMs ?? NaN), 0));
		}
		expect(of('Sunniva Praat', '2026-03-06T13:00:00+01:00', visit)).toBeNull();
		expect(of('Anneke Trosvik', '2026-03-10T08:30:00+01:00', visit)).toBeNull();
	});
	it('of a step are one a run, its first, and none where it was broken off', () => {
		const step = { of: 'step', path: 'grid/post/height' } as const;
		const found = practisedTimes(facts, step);
		const visits = facts.flatMap(({ past }) => past.steps.filter(({ path }) => path === step.path));
		expect(new Set(found.map(({ run }) => run)).size).toBe(found.length);
		expect(found.map(({ timeMs }) => timeMs)).toEqual(visits.filter(({ visit, censored, durationMs }) => visit === 1 && !censored && durationMs > 0).map(({ durationMs }) => durationMs));
		const [run] = facts;
		const broken = { ...run!, past: { ...run!.past, steps: [{ path: 'x', visit: 1, durationMs: 5000, censored: true }, { path: 'x', visit: 2, durationMs: 7000 }] } };
		expect(practisedTimes([broken], { of: 'step', path: 'x' })).toEqual([]);
	});
	it('keep the order of the runs', () => {
		const times = practisedTimes(facts, { of: 'stage', stage: 'load' });
		expect(times.length).toBeGreaterThan(20);
		expect(times.map(({ run }) => run)).toEqual(facts.filter(({ run }) => times.some((each) => each.run === run)).map(({ run }) => run));
	});
});

describe('spreads and offsets', () => {
	it('hold every measured visit of a step, and no spread of too few', () => {
		const [often, never] = stepSpreads(facts, [{ path: 'load/gloves', plannedMs: 45_000 }, { path: 'load/nowhere', plannedMs: null }]);
		expect(often?.timesMs.length).toBeGreaterThanOrEqual(facts.length);
		expect([...(often?.timesMs ?? [])].sort((a, b) => a - b)).toEqual(often?.timesMs);
		expect(often?.spread?.p10Ms).toBeLessThan(often?.spread?.medianMs ?? 0);
		expect(never).toEqual({ path: 'load/nowhere', timesMs: [], plannedMs: null, spread: null });
	});
	it('take the first measurement of each loop only', () => {
		const series = offsetSeries(facts).find(({ step, unit }) => step === 'grid/post/height' && unit === 'µm');
		const loops = facts.flatMap(({ past }) => past.steps.filter(({ path }) => path === 'grid/post/height')).length;
		expect(series?.values.length).toBeGreaterThan(0);
		expect(series?.values.length).toBeLessThanOrEqual(loops);
	});
});
