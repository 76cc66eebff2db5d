/**
 * The forecast's port: history of runs + state now → how long it still takes, how surely, and what must start when.
 *
 * Every duration is in milliseconds with pauses taken out; every moment (`…AtMs`) is in milliseconds on one clock of the caller's
 * choice, epoch milliseconds by habit. Everything is plain data, so that it passes into a worker and back unchanged.
 */

/** A step as the procedure plans it. `path` is the step's path, unique in the edition. */
export interface PlannedStep {
	readonly path: string;
	readonly stage: string;
	/** The author's planned duration of one visit of the step; absent where the author gave none. */
	readonly plannedMs?: number;
	/** The step may be left out even where its stage is walked. */
	readonly optional?: boolean;
}

/** A stage of the procedure, in walking order. */
export interface PlannedStage {
	readonly id: string;
	readonly optional?: boolean;
}

/** What is known of a procedure before anybody walks it: its stages and its steps along the plain way through. */
export interface PlannedProcedure {
	readonly id: string;
	readonly stages: readonly PlannedStage[];
	readonly steps: readonly PlannedStep[];
}

/** One visit of one step: the n-th time (`visit`, from 1) that this run came to it. */
export interface TimedStep {
	readonly path: string;
	readonly visit: number;
	readonly durationMs: number;
	/** True where the step was broken off (aborted, journal ends, clock began anew): it would have lasted at least this long. */
	readonly censored?: boolean;
}

/** One trouble in a run: where it struck and how long its own steps took until the way back was reached. */
export interface TimedTrouble {
	readonly id: string;
	/** The step in which it was called. */
	readonly path: string;
	readonly durationMs: number;
	readonly censored?: boolean;
}

/** Complete: walked to the end. Aborted: ended early by decision. Unfinished: the record stops (still open, or cut off). */
export type RunOutcome = 'complete' | 'aborted' | 'unfinished';

/** A past run of the procedure on this device or brought in as a file. */
export interface PastRun {
	readonly id: string;
	readonly procedure: string;
	readonly operator: string;
	readonly startedAtMs: number;
	readonly outcome: RunOutcome;
	/** In walking order, loops as further visits; steps of troubles are not among them. */
	readonly steps: readonly TimedStep[];
	readonly troubles?: readonly TimedTrouble[];
}

/** The step being walked. */
export interface RunningStep {
	readonly path: string;
	readonly visit: number;
	/** Time it has had so far, pauses excluded. */
	readonly elapsedMs: number;
	/** Its stage, where the procedure's own steps do not tell it (a trouble's step: the stage in which the trouble was called). */
	readonly stage?: string;
}

/** The run being walked, at one moment. */
export interface RunNow {
	readonly operator: string;
	readonly nowAtMs: number;
	/** Steps already ended, in walking order. */
	readonly done: readonly TimedStep[];
	/** Absent before the first step, between two steps and after the last. */
	readonly running?: RunningStep;
	/**
	 * The steps that may still come after the running one, given by the procedure (never read from the run's own future). For an edition
	 * with a fixed way this is the rest of the way; steps or stages already decided against are left out by the caller.
	 */
	readonly toCome: readonly PlannedStep[];
	/** Troubles that this run has had so far. */
	readonly troubles?: readonly TimedTrouble[];
	readonly bookingEndAtMs?: number;
}

/** Settings of one question. */
export interface ForecastQuestion {
	/** Probability at which latest starts are stated; 0.9 where absent. */
	readonly surety?: number;
	/** Seed of the draws; same run, same history, same seed: same numbers. */
	readonly seed?: number;
}

/** Time left: it takes no longer than `p10Ms` in one case of ten, `p50Ms` in five, `p90Ms` in nine. */
export interface TimeLeft {
	readonly p10Ms: number;
	readonly p50Ms: number;
	readonly p90Ms: number;
}

/** A stage that runs now or is still to come. */
export interface StageForecast {
	readonly stage: string;
	/** Its running step is of this stage. */
	readonly running: boolean;
	/** Time that the stage itself still takes. */
	readonly left: TimeLeft;
	/** Time until the stage begins; zeros for the running one. */
	readonly beginsIn: TimeLeft;
	/** From the beginning of this stage (or from now, if it runs) to the end of the run. */
	readonly fromHereToEnd: TimeLeft;
	/** Last moment at which it can begin and everything after it is done by the booking's end at the stated probability. */
	readonly latestStartAtMs?: number;
	/** Probability that it begins no later than that moment. */
	readonly inTime?: number;
}

/** What leaving out would give. Entries are cumulative: each one leaves out its `stages`, all those of the entry before among them. */
export interface LeaveOut {
	readonly stages: readonly string[];
	readonly left: TimeLeft;
	/** Probability of being done by the booking's end with these stages left out. */
	readonly fits: number;
}

/** Whose runs the numbers rest on. */
export interface Basis {
	/** plan: the author's durations alone; own: this operator's runs weigh in; group: only runs of others. */
	readonly kind: 'plan' | 'own' | 'group';
	readonly ownRuns: number;
	readonly groupRuns: number;
}

/** The answer. */
export interface Forecast {
	/** Absent where no step runs. */
	readonly step?: TimeLeft;
	readonly stages: readonly StageForecast[];
	readonly run: TimeLeft;
	/** Time left of the run at the probabilities (i + ½)/n, rising; read it through `probabilityWithin`. */
	readonly leftMs: readonly number[];
	/** Probability that all is done by the booking's end, return of the tip and unloading included. Absent without a booking. */
	readonly fits?: number;
	/** Best first; empty where nothing optional is to come or there is no booking. */
	readonly leaveOut: readonly LeaveOut[];
	readonly surety: number;
	readonly basis: Basis;
}

/** What every forecast of a procedure can do. Made by `createMeanForecast` or `createForecast` (same arguments). */
export interface Forecaster {
	/** Takes one more run into the history, without starting from nothing. Runs of other procedures and runs already known are refused. */
	addRun(run: PastRun): void;
	/** Answers for the run now. Throws RangeError where a duration or probability is out of range. */
	forecast(now: RunNow, question?: ForecastQuestion): Forecast;
}

export type CreateForecaster = (procedure: PlannedProcedure, history: readonly PastRun[]) => Forecaster;

/** Probability that the rest of the run takes no longer than `withinMs`, from the answer's own quantiles. */
export function probabilityWithin(forecast: Pick<Forecast, 'leftMs'>, withinMs: number): number {
	const { leftMs } = forecast;
	if (leftMs.length === 0) return withinMs >= 0 ? 1 : 0;
	let low = 0;
	let high = leftMs.length;
	while (low < high) {
		const middle = (low + high) >> 1;
		if ((leftMs[middle] as number) <= withinMs) low = middle + 1;
		else high = middle;
	}
	return low / leftMs.length;
}
