import { existsSync, readFileSync } from 'node:fs';
import { MODELS, type ModelName } from '$lib/timing/backtest/models';
import { pairedDifference } from '$lib/timing/backtest/paired';
import { readRecordedCsv } from '$lib/timing/backtest/recorded-csv';
import { recordedRuns, type RecordedRun } from '$lib/timing/backtest/recorded-run';
import { absoluteError, asScoredFromFile, meanPinball, scores, type ScoredQuery } from '$lib/timing/backtest/score';
import { crossValidated } from '$lib/timing/backtest/validate';
import { chooseLimit } from '$lib/timing/charts/sign-off';
import { createForecast } from '$lib/timing/forecast';
import type { PlannedProcedure } from '$lib/timing/port';
import { quantileOfSorted } from '$lib/timing/quantile';
import { brier, coverageOf, judge, reliability, type Judged } from '../simulation/forecast-calibration';
import { asPastRun, createWorld, momentOf, shippedVisit } from '../simulation/forecast-world';
import type { Figure } from './figure';

/** Figures of the forecast: error on recorded runs against every baseline, calibration on little history, sign-off limits, time. */
export async function figures(): Promise<Figure[]> {
	return [...recorded(), ...littleHistory(), ...limits(), ...updates()];
}

/** The whole data lies beside the project where it is at hand; the project itself carries three recipes of it. */
const WHOLE = '../shared/data/timing/recipes-public.csv';
const PART = 'tests/fixtures/timing/recipes-three.csv';

const SPLIT_SEED = 1;
const rounded = (value: number, digits: number): number => Number(value.toFixed(digits));

function recorded(): Figure[] {
	const path = existsSync(WHOLE) ? WHOLE : PART;
	const runs: RecordedRun[] = recordedRuns(readRecordedCsv(readFileSync(path, 'utf8')).rows);
	const source = `CaptainCook4D (${path === WHOLE ? '24 recipes' : 'three recipes only'}), 5 folds by run, seed ${SPLIT_SEED}, query each step start and 30 s`;
	const answers = new Map<ModelName, ScoredQuery[]>();
	const found: Figure[] = [];
	for (const name of Object.keys(MODELS).reverse() as ModelName[]) {
		const scored = asScoredFromFile(crossValidated(MODELS[name], runs, 5, { everyS: 30, seed: SPLIT_SEED }));
		answers.set(name, scored);
		const { maeMin, pinballMin, coverage, queries } = scores(scored);
		const goal = (text: string): string | undefined => (name === 'full' ? text : undefined);
		found.push(
			{
				name: `${name}: MAE`,
				value: rounded(maeMin, 3),
				unit: 'min',
				goal: goal('≤ 1.95 on runs held out'),
				n: queries,
				source
			},
			{
				name: `${name}: pinball`,
				value: rounded(pinballMin, 4),
				unit: 'min',
				goal: goal('≤ 0.64 on runs held out'),
				n: queries,
				source
			},
			{
				name: `${name}: coverage of P10–P90`,
				value: rounded(coverage, 3),
				goal: goal('.75 to .85'),
				n: queries,
				source
			}
		);
	}
	const full = answers.get('full') as ScoredQuery[];
	for (const rival of ['pace', 'shrunk'] as const)
		for (const [loss, lossOf] of [
			['MAE', absoluteError],
			['pinball', meanPinball]
		] as const)
			for (const [by, clusterOf] of [
				['run', (query: ScoredQuery) => query.runId],
				['operator', (query: ScoredQuery) => query.operator]
			] as const) {
				const { differenceMin, intervalMin, clusters } = pairedDifference(
					full,
					answers.get(rival) as ScoredQuery[],
					lossOf,
					clusterOf,
					SPLIT_SEED
				);
				found.push({
					name: `full − ${rival}: ${loss}, bootstrap by ${by}`,
					value: rounded(differenceMin, 4),
					unit: 'min',
					goal: 'interval below 0',
					n: clusters,
					interval: [rounded(intervalMin[0], 4), rounded(intervalMin[1], 4)],
					source
				});
			}
	return found;
}

const WORLDS = 100;

function littleHistory(): Figure[] {
	const source = `simulation from the shipped visit, truth in tests/simulation/forecast-world.ts, ${WORLDS} worlds of 6 queries`;
	const visit = shippedVisit();
	const all: Judged[] = [];
	const found: Figure[] = [];
	for (const ownRuns of [0, 1, 3, 10]) {
		const judged = judge(visit, ownRuns, WORLDS, 6, 20_000 + 1000 * ownRuns);
		if (ownRuns > 0) all.push(...judged);
		// queries of one world hang together: the interval is over worlds
		const byWorld = Array.from({ length: WORLDS }, (_, world) =>
			coverageOf(judged.filter((each) => each.world === world))
		);
		const mean = coverageOf(judged);
		const se = Math.sqrt(byWorld.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (WORLDS - 1) / WORLDS);
		found.push({
			name: `coverage after ${ownRuns} runs of one operator`,
			value: rounded(mean, 3),
			goal: ownRuns > 0 ? '.70 to .90' : undefined,
			n: judged.length,
			interval: [rounded(mean - 1.96 * se, 3), rounded(mean + 1.96 * se, 3)],
			source
		});
	}
	const { score, baseRate } = brier(all);
	found.push({
		name: 'probability to finish: Brier score',
		value: rounded(score, 4),
		goal: `below the base rate's ${rounded(baseRate, 4)}`,
		n: all.length,
		source
	});
	for (const { from, count, meanSaid, happened } of reliability(all))
		found.push({
			name: `probability to finish: said ${from.toFixed(1)}–${(from + 0.1).toFixed(1)}, on average ${rounded(meanSaid, 3)}`,
			value: rounded(happened, 3),
			goal: 'happened as often as said',
			n: count,
			source
		});
	return found;
}

function limits(): Figure[] {
	const source = '10,000 series, seed 1; weights from the sequential probability ratio test';
	return (['cusum', 'lc-cusum'] as const).map((kind) => {
		const rates = { accepted: 0.1, unaccepted: 0.2 };
		const { limit, falseSignals, trueSignals } = chooseLimit(kind, rates, 0.1, 50, { series: 10_000 });
		return {
			name: `${kind}, 10 % against 20 %, limit for at most 10 % false signals in 50 attempts`,
			value: rounded(limit, 2),
			goal: `false ${rounded(falseSignals, 3)}, true ${rounded(trueSignals, 3)}`,
			source
		};
	});
}

/** An invented procedure of so many steps in ten stages, the second last of them optional. */
function longProcedure(steps: number): PlannedProcedure {
	const stages = Array.from({ length: 10 }, (_, index) => ({ id: `s${index}`, optional: index === 8 }));
	return {
		id: 'long',
		stages,
		steps: Array.from({ length: steps }, (_, index) => {
			const stage = `s${Math.floor((10 * index) / steps)}`;
			return { path: `${stage}/${index}`, stage, plannedMs: 60_000 + 1000 * (index % 60) };
		})
	};
}

function updates(): Figure[] {
	const found: Figure[] = [];
	const source = 'invented procedure of 10 stages, 200 runs of 8 people, processor time on this machine';
	for (const steps of [50, 100, 200]) {
		const procedure = longProcedure(steps);
		const world = createWorld(procedure, 1);
		const history = Array.from({ length: 201 }, (_, index) =>
			asPastRun(procedure, world.walk(`p${index % 8}`), `${index}`)
		);
		const forecaster = createForecast(procedure, history.slice(0, 200));
		const { now } = momentOf(procedure, world.walk('p1'), 0, 0.5);
		const ask = (index: number) =>
			forecaster.forecast({
				...now,
				bookingEndAtMs: steps * 150_000,
				running: { ...now.running!, elapsedMs: 1000 * index }
			});
		// processor time, since other work on the machine is none of the forecast's cost
		const took = (work: () => unknown): number => {
			const begun = process.cpuUsage();
			work();
			const { user, system } = process.cpuUsage(begun);
			return (user + system) / 1000;
		};
		ask(0);
		const times = Float64Array.from({ length: 200 }, (_, index) => took(() => ask(index))).sort();
		found.push({
			name: `one update, ${steps} steps to come, 200 runs: p95`,
			value: rounded(quantileOfSorted(times, 0.95), 1),
			unit: 'ms',
			goal: steps === 100 ? '≤ 50 ms' : 'linear in steps',
			n: times.length,
			source
		});
		if (steps !== 100) continue;
		const added = took(() => {
			forecaster.addRun(history[200]!);
			ask(0);
		});
		found.push({
			name: 'adding a run and the update after it',
			value: rounded(added, 1),
			unit: 'ms',
			goal: 'one refit',
			source
		});
	}
	return found;
}
