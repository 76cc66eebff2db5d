/**
 * An invented world in which people walk the shipped visit, with a stated truth, for judging the forecast's calibration. Nothing here is
 * shared with the model but the port: true durations come from laws that the model does not know the numbers of.
 */
import { readFileSync } from 'node:fs';
import { compileProcedure } from '$lib/procedure/compile';
import { plannedProcedure } from '$lib/run/ahead';
import { seededDraws, type Draws } from '$lib/timing/draws';
import type { PastRun, PlannedProcedure, RunNow, TimedStep, TimedTrouble } from '$lib/timing/port';

export function shippedVisit(): PlannedProcedure {
	const at = (name: string): string => readFileSync(new URL(`../../procedures/${name}`, import.meta.url), 'utf8');
	const made = compileProcedure(at('lift-out-visit.yaml'), 'lift-out-visit.yaml', at);
	if ('faults' in made) throw new Error(`the shipped visit does not compile: ${JSON.stringify(made.faults[0])}`);
	return plannedProcedure(made.edition);
}

/** Standard deviations are of ln duration; chances are per visit of a step. */
export const TRUTH = {
	planFactorSd: 0.25,
	stepFactorSd: 0.35,
	operatorSd: 0.15,
	runSd: 0.18,
	operatorStepSd: 0.1,
	noiseSdFrom: 0.25,
	noiseSdTo: 0.55,
	/** One step in six is a machine's wait: its own noise, hardly any pace. */
	waits: 1 / 6,
	waitNoiseSd: 0.1,
	waitLoading: 0.1,
	optionalWalked: 0.85,
	again: 0.03,
	trouble: 0.012,
	troubleMedianMs: 300_000,
	troubleSd: 0.7
} as const;

/** What truly happened in a walk, in order; troubles and loops included. */
export interface TrueRun {
	readonly operator: string;
	readonly events: readonly (TimedStep & { readonly stage: string; readonly troubles: readonly TimedTrouble[] })[];
	readonly totalMs: number;
}

export interface World {
	readonly procedure: PlannedProcedure;
	walk(operator: string): TrueRun;
}

export function createWorld(procedure: PlannedProcedure, seed: number): World {
	const draws = seededDraws(seed);
	const planFactor = TRUTH.planFactorSd * draws.normal();
	const laws = new Map(
		procedure.steps.map((step) => [step.path, stepTruth(step.plannedMs ?? 60_000, planFactor, draws)])
	);
	const optional = new Set(procedure.stages.flatMap((stage) => (stage.optional ? [stage.id] : [])));
	const operators = new Map<string, { pace: number; own: Map<string, number> }>();
	return {
		procedure,
		walk(operator) {
			const person = operators.get(operator) ?? {
				pace: TRUTH.operatorSd * draws.normal(),
				own: new Map(procedure.steps.map(({ path }) => [path, TRUTH.operatorStepSd * draws.normal()]))
			};
			operators.set(operator, person);
			const pace = person.pace + TRUTH.runSd * draws.normal();
			const walked = new Set(
				procedure.stages
					.filter(({ id }) => !optional.has(id) || draws.uniform() < TRUTH.optionalWalked)
					.map(({ id }) => id)
			);
			const events: TrueRun['events'][number][] = [];
			for (const { path, stage } of procedure.steps) {
				if (!walked.has(stage)) continue;
				const law = laws.get(path)!;
				for (let visit = 1; visit === 1 || draws.uniform() < TRUTH.again; visit++) {
					const durationMs = Math.exp(
						law.mu + law.loading * pace + (person.own.get(path) ?? 0) * law.loading + law.sd * draws.normal()
					);
					const troubles: TimedTrouble[] =
						draws.uniform() < TRUTH.trouble
							? [{ id: 'any', path, durationMs: TRUTH.troubleMedianMs * Math.exp(TRUTH.troubleSd * draws.normal()) }]
							: [];
					events.push({ path, stage, visit, durationMs, troubles });
				}
			}
			return { operator, events, totalMs: events.reduce((sum, each) => sum + timeOf(each), 0) };
		}
	};
}

function stepTruth(plannedMs: number, planFactor: number, draws: Draws) {
	const mu = Math.log(plannedMs) + planFactor + TRUTH.stepFactorSd * draws.normal();
	if (draws.uniform() < TRUTH.waits) return { mu, loading: TRUTH.waitLoading, sd: TRUTH.waitNoiseSd };
	return { mu, loading: 1, sd: TRUTH.noiseSdFrom + (TRUTH.noiseSdTo - TRUTH.noiseSdFrom) * draws.uniform() };
}

const timeOf = (event: TrueRun['events'][number]): number =>
	event.durationMs + event.troubles.reduce((sum, trouble) => sum + trouble.durationMs, 0);

/** The walk as a record, whole, or broken off after a share of its events (the last of them censored half-way). */
export function asPastRun(procedure: PlannedProcedure, run: TrueRun, id: string, share = 1): PastRun {
	const kept = run.events.slice(0, Math.max(1, Math.ceil(run.events.length * share)));
	const steps = kept.map(({ path, visit, durationMs }, index): TimedStep =>
		share < 1 && index === kept.length - 1
			? { path, visit, durationMs: durationMs / 2, censored: true }
			: { path, visit, durationMs }
	);
	return {
		id,
		procedure: procedure.id,
		operator: run.operator,
		startedAtMs: 0,
		outcome: share < 1 ? 'aborted' : 'complete',
		steps,
		troubles: kept.flatMap((event) => event.troubles)
	};
}

/** What could be known at a moment of the walk, `share` of its events done and `within` of the running step's time, and the truth. */
export function momentOf(
	procedure: PlannedProcedure,
	run: TrueRun,
	share: number,
	within: number
): { now: RunNow; leftMs: number } {
	const place = Math.min(run.events.length - 1, Math.floor(run.events.length * share));
	const running = run.events[place]!;
	const elapsedMs = running.durationMs * within;
	const after = procedure.steps.findIndex((step) => step.path === running.path) + 1;
	const past = run.events.slice(0, place);
	const toCome = procedure.steps.slice(after);
	const leftMs = run.events.slice(place).reduce((sum, each) => sum + timeOf(each), 0) - elapsedMs;
	return {
		now: {
			operator: run.operator,
			nowAtMs: 0,
			done: past.map(({ path, visit, durationMs }) => ({ path, visit, durationMs })),
			running: { path: running.path, visit: running.visit, elapsedMs },
			toCome
		},
		leftMs
	};
}
