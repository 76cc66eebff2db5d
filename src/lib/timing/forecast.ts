/**
 * The forecast of a procedure: shrunk log-normal durations (effects.ts) from planned times and past runs, drawn ahead along the way that the
 * procedure gives (simulate.ts), with optional steps, loops and troubles (chances.ts), today's pace, and the time already spent in this step.
 * Same history, same run, same seed: same numbers. Runs are taken in as counts at once; durations are fitted anew once, at the next question.
 */
import { answer } from './answer';
import { Chances } from './chances';
import { seededDraws } from './draws';
import { Effects, type Observation, type StepLaw, type StepPrior } from './effects';
import { USUAL_SETTINGS, type EffectsSettings } from './effects-settings';
import { requireNow, RunBook } from './history';
import type { CreateForecaster, Forecaster, PlannedProcedure, RunNow } from './port';
import { lawsOf, simulate, type StepAhead } from './simulate';

/** Draws behind an answer: the standard error of a probability is at most 1.6 %. */
const DRAWS = 1000;
/** Planned time of a step that nobody planned, where nothing else is planned either: an assumption, no source. */
const UNPLANNED_MS = 120_000;

/** A plan is off by a factor common to all steps (levelSd) and by one of each step's own (priorSd): assumptions, no source. */
const PLANNED: EffectsSettings = { ...USUAL_SETTINGS, operatorSd: 0.15, operatorGroupSd: 0, loadingWeight: 10, priorSd: 0.4, levelSd: 0.3, stepSd: 0.4, shortestMs: 1000 };

export const createForecast: CreateForecaster = (procedure, history): Forecaster => {
	const book = new RunBook(procedure);
	const chances = new Chances(procedure);
	const steps = new StepPriors(procedure);
	const observations: Observation[] = [];
	let runs = 0;
	let fitted: Effects | undefined;

	const addRun: Forecaster['addRun'] = (run) => {
		book.take(run);
		chances.add(run);
		for (const { path, durationMs, censored } of run.steps)
			observations.push({ step: steps.indexOf(path), operator: run.operator, run: runs, durationMs, censored });
		runs += 1;
		fitted = undefined;
	};
	history.forEach(addRun);

	return {
		addRun,
		forecast(now, question = {}) {
			const surety = requireNow(now, question.surety);
			// a step met for the first time in this run joins the priors before the fit, not after it
			for (const { path, plannedMs } of now.toCome) if (steps.add(path, plannedMs)) fitted = undefined;
			for (const { path } of [...now.done, ...(now.running ? [now.running] : [])])
				if (steps.add(path)) fitted = undefined;
			fitted ??= new Effects(observations, steps.priors, PLANNED);
			const effects = fitted;
			const lawOf = (path: string): StepLaw => effects.law(steps.indexOf(path), now.operator);
			const measured = now.done.filter((step) => !step.censored);
			const pace = effects.paceAfter(
				effects.paceOf(now.operator, 0),
				measured.map((step) => lawOf(step.path)),
				measured.map((step) => step.durationMs)
			);
			const chancesOf = (path: string) => ({
				law: lawOf(path),
				again: chances.again(path),
				trouble: chances.trouble(path)
			});
			const running = now.running && {
				...chancesOf(now.running.path),
				probability: 1,
				elapsedMs: now.running.elapsedMs
			};
			const begun = stagesBegun(procedure, now);
			const ahead = now.toCome.map((step): StepAhead => {
				const stageBegun = begun.has(step.stage);
				const bundle = stageBegun ? undefined : chances.bundleOf(step);
				return { ...chancesOf(step.path), probability: chances.walked(step, stageBegun), bundle };
			});
			const columns = simulate({ pace, running, ahead }, DRAWS, seededDraws(question.seed ?? 1));
			return answer(procedure, now, surety, book.basisFor(now.operator), lawsOf(columns));
		}
	};
};

/** Priors by step path; paths that the procedure does not list (steps of a trouble) get the mean plan. */
class StepPriors {
	readonly priors: StepPrior[] = [];
	private readonly indices = new Map<string, number>();
	private readonly planned: ReadonlyMap<string, number>;
	private readonly usualMs: number;

	constructor(procedure: PlannedProcedure) {
		const given = procedure.steps.flatMap(({ path, plannedMs }) =>
			plannedMs !== undefined && plannedMs > 0 ? [[path, plannedMs] as const] : []
		);
		this.planned = new Map(given);
		this.usualMs = given.length === 0 ? UNPLANNED_MS : given.reduce((sum, [, ms]) => sum + ms, 0) / given.length;
		for (const { path } of procedure.steps) this.add(path);
	}

	indexOf(path: string): number {
		this.add(path);
		return this.indices.get(path) as number;
	}

	/** True where the path was new. */
	add(path: string, plannedMs = this.planned.get(path)): boolean {
		if (this.indices.has(path)) return false;
		this.indices.set(path, this.priors.push({ logMs: Math.log(plannedMs || this.usualMs), group: 0 }) - 1);
		return true;
	}
}

function stagesBegun(procedure: PlannedProcedure, now: RunNow): Set<string> {
	const stageOf = new Map(procedure.steps.map((step) => [step.path, step.stage]));
	const paths = [...now.done.map((step) => step.path), ...(now.running ? [now.running.path] : [])];
	return new Set(paths.flatMap((path) => stageOf.get(path) ?? []));
}
