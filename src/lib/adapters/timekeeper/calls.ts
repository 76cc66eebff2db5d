import type { Timekeeper } from '$lib/ports/timekeeper';
import type { Forecast, ForecastQuestion, PastRun, PlannedProcedure, RunNow } from '$lib/timing/port';

/** What the page asks of the worker; forecasters are told apart by a number of the page's. */
export interface TimeCalls {
	factsOf: Timekeeper['factsOf'];
	limit: Timekeeper['limit'];
	open(forecaster: number, procedure: PlannedProcedure, history: readonly PastRun[]): Promise<void>;
	ask(forecaster: number, now: RunNow, question: ForecastQuestion): Promise<Forecast>;
	close(forecaster: number): Promise<void>;
}

export interface TimeCall<K extends keyof TimeCalls = keyof TimeCalls> {
	readonly id: number;
	readonly call: K;
	readonly args: Parameters<TimeCalls[K]>;
}

export type TimeAnswer = { readonly id: number; readonly result: unknown } | { readonly id: number; readonly fault: string };

/** The end of a line to the worker: a Worker, or its like in tests. */
export interface TimeLine {
	postMessage(call: TimeCall, transfer: Transferable[]): void;
	onmessage: ((message: MessageEvent<TimeAnswer>) => void) | null;
	onerror: ((fault: ErrorEvent) => void) | null;
}
