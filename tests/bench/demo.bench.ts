import { readFileSync } from 'node:fs';
import { seededChance } from '$lib/adapters/chance/seeded-chance';
import { SimulatedClock } from '$lib/adapters/clock/simulated-clock';
import { demoHistory, offsetMinOf } from '$lib/demo/demo-history';
import type { Scenario } from '$lib/procedure/scenario';
import { lineOf } from '$lib/record/chain';
import { plannedProcedure, runNow } from '$lib/run/ahead';
import { pastRunOf } from '$lib/run/durations';
import { emptyTimeline, foldTimeline, timelineOf } from '$lib/run/timeline';
import { createForecast } from '$lib/timing/forecast';
import type { Forecast, PastRun } from '$lib/timing/port';
import { quantileOfSorted } from '$lib/timing/quantile';
import { seededDraws } from '$lib/timing/draws';
import { shipped } from '../simulation/shipped';
import type { Figure } from './figure';

const VISIT = 'lift-out-visit';
/** A question at every tenth step. */
const EVERY = 10;

interface Asked {
	readonly run: string;
	readonly before: number;
	readonly told: Forecast;
	readonly plannedLeftMs: number;
	readonly leftMs: number;
}

/** Figures of the invented history, and of the forecast on it: each visit is foretold from those that ended before it began. */
export async function figures(): Promise<Figure[]> {
	const scenario = JSON.parse(readFileSync('procedures/demo/scenario.json', 'utf8')) as Scenario;
	const editions = new Map(['lift-out-visit', 'exchange-tip', 'bench-loading'].map((id) => [id, shipped(id)]));
	const begun = process.cpuUsage();
	const runs = [...demoHistory(scenario, editions, { clockAt: (start, zone, boot) => new SimulatedClock({ wallMs: Date.parse(start), offsetMin: offsetMinOf(start), zone, boot }), ids: seededChance })];
	const { user, system } = process.cpuUsage(begun);
	const events = runs.reduce((sum, run) => sum + run.events.length, 0);
	const bytes = runs.reduce((sum, run) => sum + run.events.reduce((all, event) => all + lineOf(event).length + 1, 0), 0);
	const source = 'invented history of procedures/demo/scenario.json, played through the run engine';
	return [
		{ name: 'invented history: runs', value: runs.length, source },
		{ name: 'invented history: events', value: events, source },
		{ name: 'invented history: journals', value: Number((bytes / 1e6).toFixed(1)), unit: 'MB', source },
		{ name: 'invented history: processor time to make it', value: Math.round((user + system) / 1000), unit: 'ms', source },
		...foretold(runs.filter(({ visit }) => visit.procedure === VISIT).map((run) => run.events))
	];
}

function foretold(visits: readonly Parameters<typeof timelineOf>[0][]): Figure[] {
	const procedure = plannedProcedure(shipped(VISIT));
	const planOf = new Map(procedure.steps.map(({ path, plannedMs }) => [path, plannedMs ?? 0]));
	const past: PastRun[] = [];
	const asked: Asked[] = [];
	for (const events of visits) {
		const whole = timelineOf(events);
		const forecaster = createForecast(procedure, past);
		let timeline = emptyTimeline;
		let steps = 0;
		for (const event of events) {
			timeline = foldTimeline(timeline, event);
			if (whole.state.status !== 'complete' || event.kind !== 'stepEntered' || steps++ % EVERY !== 0) continue;
			const now = runNow(timeline, event);
			const plannedLeftMs = [...now.toCome, ...(now.running ? [now.running] : [])].reduce((sum, { path }) => sum + (planOf.get(path) ?? 0), 0);
			asked.push({ run: whole.state.run, before: past.length, told: forecaster.forecast(now), plannedLeftMs, leftMs: whole.run.elapsedMs - timeline.run.elapsedMs });
		}
		past.push(pastRunOf(whole)!);
	}
	const source = `each of ${new Set(asked.map(({ run }) => run)).size} complete invented visits from those before it, a question every ${EVERY} steps; interval by bootstrap over visits`;
	const covered = ({ told, leftMs }: Asked) => Number(told.run.p10Ms <= leftMs && leftMs <= told.run.p90Ms);
	const errorMin = ({ told, leftMs }: Asked) => Math.abs(told.run.p50Ms - leftMs) / 60_000;
	const planErrorMin = ({ plannedLeftMs, leftMs }: Asked) => Math.abs(plannedLeftMs - leftMs) / 60_000;
	const later = asked.filter(({ before }) => before >= 10);
	return [
		figure('forecast on invented visits: coverage of P10–P90', asked, covered, source, '.75 to .85'),
		figure('the same, with 10 visits or more before', later, covered, source, '.75 to .85'),
		figure('forecast on invented visits: MAE', asked, errorMin, source, undefined, 'min'),
		figure('planned times on the same: MAE', asked, planErrorMin, source, undefined, 'min'),
		figure('planned times − forecast: MAE', asked, (one) => planErrorMin(one) - errorMin(one), source, 'interval above 0', 'min')
	];
}

/** Mean over the questions, with a 95 % interval from 1000 resamples of whole visits. */
function figure(name: string, asked: readonly Asked[], of: (one: Asked) => number, source: string, goal?: string, unit?: string): Figure {
	const byRun = new Map<string, number[]>();
	for (const one of asked) byRun.set(one.run, [...(byRun.get(one.run) ?? []), of(one)]);
	const visits = [...byRun.values()];
	const mean = (lists: readonly (readonly number[])[]) => lists.flat().reduce((sum, value) => sum + value, 0) / lists.flat().length;
	const draws = seededDraws(1);
	const means = Float64Array.from({ length: 1000 }, () => mean(visits.map(() => visits[Math.floor(draws.uniform() * visits.length)] as number[]))).sort();
	const rounded = (value: number) => Number(value.toFixed(3));
	return { name, value: rounded(mean(visits)), ...(unit ? { unit } : {}), ...(goal ? { goal } : {}), n: asked.length, interval: [rounded(quantileOfSorted(means, 0.025)), rounded(quantileOfSorted(means, 0.975))], source };
}
