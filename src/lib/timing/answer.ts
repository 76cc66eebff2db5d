/** Puts an answer together out of the laws of time of any set of steps ahead. */
import type { Basis, Forecast, LeaveOut, PlannedProcedure, RunNow, StageForecast, TimeLeft } from './port';
import { stagesAhead, stagesToSpare, type StageAhead } from './stage-order';

/** How long something takes: its quantiles and the probability that it is done within a time (ms). */
export interface Law {
	quantile(p: number): number;
	within(ms: number): number;
}

/** The law of the time that the steps `toCome[i]` for i in `steps` take together, what is left of the running step included if asked. */
export type LawOf = (steps: readonly number[], withRunning: boolean) => Law;

/** Quantiles kept in an answer; 200 pass quickly into and out of a worker and keep a probability within a quarter of a percent. */
const KEPT = 200;

const timeLeft = (law: Law): TimeLeft => ({
	p10Ms: law.quantile(0.1),
	p50Ms: law.quantile(0.5),
	p90Ms: law.quantile(0.9)
});

const NOTHING_LEFT: TimeLeft = { p10Ms: 0, p50Ms: 0, p90Ms: 0 };

export function answer(procedure: PlannedProcedure, now: RunNow, surety: number, basis: Basis, lawOf: LawOf): Forecast {
	const all = now.toCome.map((_, index) => index);
	const stages = stagesAhead(procedure, now);
	const whole = lawOf(all, true);
	const budgetMs = now.bookingEndAtMs === undefined ? undefined : now.bookingEndAtMs - now.nowAtMs;
	return {
		step: now.running && timeLeft(lawOf([], true)),
		stages: stages.map((stage) => stageForecast(stage, now, surety, lawOf)),
		run: timeLeft(whole),
		leftMs: Array.from({ length: KEPT }, (_, index) => whole.quantile((index + 0.5) / KEPT)),
		fits: budgetMs === undefined ? undefined : whole.within(budgetMs),
		leaveOut: budgetMs === undefined ? [] : leaveOut(stagesToSpare(procedure, stages), all, budgetMs, lawOf),
		surety,
		basis
	};
}

function stageForecast(stage: StageAhead, now: RunNow, surety: number, lawOf: LawOf): StageForecast {
	const onwards = now.toCome.flatMap((_, index) => (index >= stage.first ? [index] : []));
	const before = now.toCome.flatMap((_, index) => (index < stage.first ? [index] : []));
	const fromHere = lawOf(onwards, stage.running);
	const begins = stage.running ? undefined : lawOf(before, true);
	const latestStartAtMs = now.bookingEndAtMs === undefined ? undefined : now.bookingEndAtMs - fromHere.quantile(surety);
	return {
		stage: stage.stage,
		running: stage.running,
		left: timeLeft(lawOf(stage.steps, stage.running)),
		beginsIn: begins ? timeLeft(begins) : NOTHING_LEFT,
		fromHereToEnd: timeLeft(fromHere),
		latestStartAtMs,
		inTime: latestStartAtMs === undefined ? undefined : inTime(begins, latestStartAtMs - now.nowAtMs)
	};
}

const inTime = (begins: Law | undefined, marginMs: number): number =>
	begins ? begins.within(marginMs) : marginMs >= 0 ? 1 : 0;

/** Greedy, best first: each entry adds the stage whose leaving out raises the probability most (then: saves most at the median). */
function leaveOut(spare: readonly StageAhead[], all: readonly number[], budgetMs: number, lawOf: LawOf): LeaveOut[] {
	const entries: LeaveOut[] = [];
	const gone = new Set<number>();
	const names: string[] = [];
	let candidates = [...spare];
	while (candidates.length > 0) {
		const tried = candidates.map((stage) => {
			const dropped = new Set(stage.steps);
			const law = lawOf(
				all.filter((index) => !gone.has(index) && !dropped.has(index)),
				true
			);
			return { stage, fits: law.within(budgetMs), left: timeLeft(law) };
		});
		tried.sort((a, b) => b.fits - a.fits || a.left.p50Ms - b.left.p50Ms);
		const best = tried[0] as (typeof tried)[number];
		for (const index of best.stage.steps) gone.add(index);
		names.push(best.stage.stage);
		entries.push({ stages: [...names], left: best.left, fits: best.fits });
		candidates = candidates.filter((stage) => stage !== best.stage);
	}
	return entries;
}
