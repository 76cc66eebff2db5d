/**
 * Models that draw the rest of a recorded run: which steps still come, how long each takes (effects.ts), drawn together (simulate.ts) with
 * the time already spent in the running step. Three of them:
 *
 *   lognormal  a log-normal for each step, the same for all operators and days; a step still comes with the share of training runs in
 *              which it occurs.
 *   shrunk     the same with shrunk operator, pace and operator × step effects.
 *   full       shrunk, and whether a step still comes is judged from what has been done so far (order-features.ts, logistic.ts).
 */
import { lawsOf, simulate, type StepAhead } from '../simulate';
import { seededDraws } from '../draws';
import { Effects, type Observation, type StepLaw } from '../effects';
import { USUAL_SETTINGS, type EffectsSettings } from '../effects-settings';
import { fitLogistic, type Classifier } from './logistic';
import type { FitModel, FittedModel } from './model';
import { OrderCounts } from './order-counts';
import { candidates } from './order-features';
import type { Query } from './query';
import type { RecordedRun } from './recorded-run';

/** Draws behind every prediction. */
const DRAWS = 1000;

const isRepeat = (key: string): boolean => / #\d+$/.test(key);

interface Kind {
	readonly settings: EffectsSettings;
	readonly judgesOrder: boolean;
}

/** So small that the effect stays at zero. */
const NONE = 1e-6;

export const fitLogNormal = fitDrawn({
	settings: { ...USUAL_SETTINGS, operatorSd: NONE, operatorGroupSd: 0, runSd: NONE, operatorStepSd: NONE },
	judgesOrder: false
});
export const fitShrunk = fitDrawn({ settings: USUAL_SETTINGS, judgesOrder: false });
export const fitFull = fitDrawn({ settings: USUAL_SETTINGS, judgesOrder: true });

function fitDrawn(kind: Kind): FitModel {
	return (train, { seed }) => fitted(train, seed, kind);
}

function fitted(train: readonly RecordedRun[], seed: number, { settings, judgesOrder }: Kind): FittedModel {
	const orders = new Map<string, OrderCounts>();
	for (const procedure of new Set(train.map((run) => run.procedure)))
		orders.set(procedure, new OrderCounts(train.filter((run) => run.procedure === procedure)));
	const groups = new Map([...orders.keys()].map((procedure, index) => [procedure, index]));
	const comes = judgesOrder ? fitComing(train, orders) : undefined;
	const { effects, indexOf } = fitEffects(train, groups, settings);

	const lawOf = (query: Query, key: string): StepLaw => {
		const step = indexOf(query.procedure, key);
		return step === undefined
			? effects.strangerLaw(groups.get(query.procedure) ?? -1)
			: effects.law(step, query.operator);
	};
	const stepsAhead = (query: Query): StepAhead[] => {
		const counts = orders.get(query.procedure);
		if (!counts) return [];
		const done = query.done.map((step) => step.key);
		if (!comes) {
			const past = new Set([...done, query.running.key]);
			return counts.keys.flatMap((key, step) =>
				past.has(key) ? [] : { law: lawOf(query, key), probability: counts.occurrencesOf(step) / counts.runCount }
			);
		}
		return candidates(counts, done, query.running.key, isRepeat).map(({ key, features }) => ({
			law: lawOf(query, key),
			probability: comes(features)
		}));
	};

	return {
		predict(query) {
			const pace = effects.paceAfter(
				effects.paceOf(query.operator, groups.get(query.procedure) ?? -1),
				query.done.map((step) => lawOf(query, step.key)),
				query.done.map((step) => step.durationS * 1000)
			);
			const running = { law: lawOf(query, query.running.key), probability: 1, elapsedMs: query.inStepS * 1000 };
			const ahead = stepsAhead(query);
			// one seed for all queries: neighbouring queries then differ by what is known, not by chance
			const columns = simulate({ pace, running, ahead }, DRAWS, seededDraws(seed));
			const law = lawsOf(columns)(
				ahead.map((_, index) => index),
				true
			);
			return { p10S: law.quantile(0.1) / 1000, p50S: law.quantile(0.5) / 1000, p90S: law.quantile(0.9) / 1000 };
		}
	};
}

/** Learns from every point of every training run, seen by the others, whether each open step did come later. */
function fitComing(train: readonly RecordedRun[], orders: ReadonlyMap<string, OrderCounts>): Classifier {
	const rows: (readonly number[])[] = [];
	const outcomes: boolean[] = [];
	for (const run of train) {
		const counts = orders.get(run.procedure) as OrderCounts;
		const keys = run.steps.map((step) => step.key);
		counts.without(run, () =>
			keys.forEach((key, place) => {
				const later = new Set(keys.slice(place + 1));
				for (const candidate of candidates(counts, keys.slice(0, place), key, isRepeat)) {
					rows.push(candidate.features);
					outcomes.push(later.has(candidate.key));
				}
			})
		);
	}
	// a single run a procedure gives no others to see it by
	return rows.length > 0 ? fitLogistic(rows, outcomes) : () => 0.5;
}

function fitEffects(train: readonly RecordedRun[], groups: ReadonlyMap<string, number>, settings: EffectsSettings) {
	const indices = new Map<string, number>();
	const stepGroups: number[] = [];
	const id = (procedure: string, key: string): string => JSON.stringify([procedure, key]);
	const observations: Observation[] = train.flatMap((run, index) =>
		run.steps.map(({ key, durationS }) => {
			const name = id(run.procedure, key);
			const step = indices.get(name) ?? stepGroups.push(groups.get(run.procedure) as number) - 1;
			indices.set(name, step);
			return { step, operator: run.operator, run: index, durationMs: durationS * 1000 };
		})
	);
	const priors = stepGroups.map((group) => ({ logMs: 0, group }));
	return {
		effects: new Effects(observations, priors, settings),
		indexOf: (procedure: string, key: string): number | undefined => indices.get(id(procedure, key))
	};
}
