/**
 * The first, simple forecast: planned durations until there is history, then means of the runs on this device, whoever walked them.
 * Each step's time is log-normal; a set of steps is their sum by matched moments (lognormal.ts).
 */
import { answer, type Law } from './answer';
import { requireNow, RunBook } from './history';
import {
	leftMoments,
	leftQuantile,
	logNormalCdf,
	logNormalFromMoments,
	logNormalQuantile,
	type LogNormal
} from './lognormal';
import type { CreateForecaster, Forecaster, PlannedProcedure } from './port';

/** A step nobody planned or walked: the mean of the planned ones, or this where nothing is planned at all. */
const UNPLANNED_MS = 120_000;
/** Spread of a step's time over its mean before it has been walked: an assumption, no source. */
const STEP_SPREAD = 0.5;
/** Spread that all steps of a run share (a slow day is slow throughout): an assumption, no source. */
const SHARED_SPREAD = 0.2;
/** The plan counts as this many walked visits, in mean and in spread. */
const PLAN_WEIGHT = 1;

interface Tally {
	count: number;
	sumMs: number;
	sumSquares: number;
}

export const createMeanForecast: CreateForecaster = (procedure, history): Forecaster => {
	const book = new RunBook(procedure);
	const tallies = new Map<string, Tally>();
	const plan = plannedMeans(procedure);

	const addRun: Forecaster['addRun'] = (run) => {
		book.take(run);
		for (const step of run.steps) {
			if (step.censored) continue;
			const tally = tallies.get(step.path) ?? { count: 0, sumMs: 0, sumSquares: 0 };
			tally.count += 1;
			tally.sumMs += step.durationMs;
			tally.sumSquares += step.durationMs ** 2;
			tallies.set(step.path, tally);
		}
	};
	history.forEach(addRun);

	const lawOfStep = (path: string): LogNormal => {
		const planned = plan.get(path) ?? plan.get('')!;
		const { count, sumMs, sumSquares } = tallies.get(path) ?? { count: 0, sumMs: 0, sumSquares: 0 };
		const mean = count === 0 ? planned : sumMs / count;
		const within = count === 0 ? 0 : Math.max(0, sumSquares - count * mean * mean);
		const variance = (within + PLAN_WEIGHT * (STEP_SPREAD * mean) ** 2) / (count + PLAN_WEIGHT);
		return logNormalFromMoments(Math.max(mean, 1), variance);
	};

	return {
		addRun,
		forecast(now, question = {}) {
			const surety = requireNow(now, question.surety);
			const running = now.running && { law: lawOfStep(now.running.path), elapsedMs: now.running.elapsedMs };
			const moments = now.toCome.map((step) => leftMoments(lawOfStep(step.path), 0));
			return answer(procedure, now, surety, book.basisFor(now.operator), (steps, withRunning) => {
				if (steps.length === 0)
					return withRunning && running ? runningLaw(running.law, running.elapsedMs) : ofLogNormal(undefined);
				const parts = steps.map((index) => moments[index]!);
				if (withRunning && running) parts.push(leftMoments(running.law, running.elapsedMs));
				const mean = parts.reduce((sum, part) => sum + part.mean, 0);
				const variance = parts.reduce((sum, part) => sum + part.variance, 0) + (SHARED_SPREAD * mean) ** 2;
				return ofLogNormal(logNormalFromMoments(Math.max(mean, 1), variance));
			});
		}
	};
};

function plannedMeans(procedure: PlannedProcedure): Map<string, number> {
	const plan = new Map<string, number>();
	for (const step of procedure.steps) if (step.plannedMs !== undefined) plan.set(step.path, step.plannedMs);
	const usual = plan.size === 0 ? UNPLANNED_MS : [...plan.values()].reduce((a, b) => a + b, 0) / plan.size;
	plan.set('', usual);
	return plan;
}

const runningLaw = (law: LogNormal, elapsedMs: number): Law => ({
	quantile: (p) => leftQuantile(law, elapsedMs, p),
	within: (ms) => {
		const done = logNormalCdf(law, elapsedMs);
		return ms < 0 ? 0 : done >= 1 ? 1 : (logNormalCdf(law, elapsedMs + ms) - done) / (1 - done);
	}
});

const ofLogNormal = (law: LogNormal | undefined): Law => ({
	quantile: (p) => (law ? logNormalQuantile(law, p) : 0),
	within: (ms) => (law ? logNormalCdf(law, ms) : ms >= 0 ? 1 : 0)
});
