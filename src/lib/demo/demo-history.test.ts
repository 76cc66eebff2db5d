import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { seededChance } from '$lib/adapters/chance/seeded-chance';
import { SimulatedClock } from '$lib/adapters/clock/simulated-clock';
import type { Scenario } from '$lib/procedure/scenario';
import { lineOf } from '$lib/record/chain';
import { prove } from '$lib/record/prove';
import { readJournal } from '$lib/record/read-journal';
import { foldAll } from '$lib/run/fold';
import { pastRunOf } from '$lib/run/durations';
import { timelineOf } from '$lib/run/timeline';
import { shipped } from '../../../tests/simulation/shipped';
import { demoHistory, type DemoRun, type DemoWorld, offsetMinOf } from './demo-history';

const scenario = JSON.parse(readFileSync(new URL('../../../procedures/demo/scenario.json', import.meta.url), 'utf8')) as Scenario;
const editions = new Map(['lift-out-visit', 'exchange-tip', 'bench-loading'].map((id) => [id, shipped(id)]));
const world: DemoWorld = {
	clockAt: (start, zone, boot) => new SimulatedClock({ wallMs: Date.parse(start), offsetMin: offsetMinOf(start), zone, boot }),
	ids: seededChance
};
const runs: DemoRun[] = [...demoHistory(scenario, editions, world)];

it('plays every visit of the scenario and those before it to an end', () => {
	expect(runs.length).toBe(runs[0]?.of);
	for (const { events, visit } of runs) expect([visit.start, foldAll(events).status]).toEqual([visit.start, expect.stringMatching(/complete|aborted/)]);
	for (const visit of scenario.visits) expect(runs.filter((run) => run.visit.start === visit.start && run.visit.person === visit.person)).toHaveLength(1);
});

it('marks every run as invented, with sound chains and without contradictions', () => {
	for (const { events } of runs) {
		const { events: sound, fault } = readJournal(events.map((event) => `${lineOf(event)}\n`).join(''));
		expect(fault).toBeNull();
		const begun = sound[0];
		expect(begun?.kind === 'begun' && begun.data.invented).toBe(true);
		const { contradictions, closed } = foldAll(sound);
		expect([contradictions, closed]).toEqual([null, true]);
	}
});

it('X1: closes every run at its end; none is signed, for no device wrote it', async () => {
	const { events } = runs[0]!;
	expect(await prove({ events: [...events], fault: null }, async () => false)).toMatchObject({ verdict: 'unsigned', closings: [{ seq: events.length - 1, fault: null, signature: 'none' }] });
});

it('walks what the scenario tells: troubles, steps taken back, stages left out', () => {
	for (const visit of scenario.visits) {
		const events = runs.find((run) => run.visit.start === visit.start)?.events ?? [];
		for (const { trouble, in: step } of visit.troubles) expect(events.some((event) => event.kind === 'trouble' && event.data.trouble === trouble && event.data.step === step), trouble).toBe(true);
		expect(events.filter(({ kind }) => kind === 'undone')).toHaveLength(visit.undone.length);
	}
	expect(runs.filter(({ events }) => events.some((event) => event.kind === 'skipped' && event.data.stage === 'thin')).length).toBeGreaterThan(3);
});

it('gives the same bytes from the same scenario, and others from another seed', () => {
	const heads = (seed: number) => Array.from({ length: 3 }, ((all) => () => all.next().value?.events.at(-1)?.hash)(demoHistory({ ...scenario, seed }, editions, world)));
	expect(heads(scenario.seed)).toEqual(runs.slice(0, 3).map(({ events }) => events.at(-1)?.hash));
	expect(heads(7)[0]).not.toBe(runs[0]?.events.at(-1)?.hash);
});

it('makes histories that the forecast takes: measured durations, the trainee slower than the trainer', () => {
	const medianMs = (person: string) => {
		const totals = runs.filter(({ visit }) => visit.person === person && visit.procedure === 'lift-out-visit').map(({ events }) => pastRunOf(timelineOf(events))?.steps.reduce((sum, step) => sum + step.durationMs, 0) ?? 0);
		return totals.sort((a, b) => a - b)[Math.floor(totals.length / 2)] ?? 0;
	};
	expect(medianMs('ludo')).toBeGreaterThan(1.3 * medianMs('marit'));
	expect(medianMs('marit')).toBeGreaterThan(60 * 60_000);
});
