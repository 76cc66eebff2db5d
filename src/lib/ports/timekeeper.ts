import type { RunFacts } from '$lib/run/run-facts';
import type { LimitQuality, Rates } from '$lib/timing/charts/sign-off';
import type { Forecast, ForecastQuestion, PastRun, PlannedProcedure, RunNow } from '$lib/timing/port';

/**
 * Everything of time that is too much work for the page's own thread: reading journals into facts, the full forecast, limits by
 * simulation. Every promise rejects with an Error whose message is a plain sentence where the work could not be done.
 */
export interface Timekeeper {
	/**
	 * Facts of a run from the bytes of its journal file; the chain is verified, what stands behind a fault is left out. Null where nothing
	 * of it is sound or it never began. The bytes are handed over and are empty afterwards.
	 */
	factsOf(journal: Uint8Array): Promise<RunFacts | null>;
	/** A forecaster with this history behind it. */
	forecaster(procedure: PlannedProcedure, history: readonly PastRun[]): OpenForecaster;
	/** The lowest limit of a sign-off chart that keeps false signals within `mostFalse` in `attempts`, and its rates. */
	limit(kind: 'cusum' | 'lc-cusum', rates: Rates, mostFalse: number, attempts: number): Promise<LimitQuality>;
}

/** `createForecast` at the other end of a line. */
export interface OpenForecaster {
	/**
	 * Answers for the run now; null where a later question overtook this one. One question is worked on at a time and only the newest
	 * waits, so that a slow device falls behind by one answer at most.
	 */
	ask(now: RunNow, question: ForecastQuestion): Promise<Forecast | null>;
	close(): void;
}
