import type { JournalEvent } from '$lib/run/events';

/** One run of the invented history, with its place among all (from 1). */
export interface InventedRun {
	readonly events: readonly JournalEvent[];
	readonly place: number;
	readonly of: number;
}

/** Makes the invented history, a run at a time, away from the page's own thread. Leaving the loop early ends the work. */
export interface InventedRuns {
	runs(): AsyncIterable<InventedRun>;
}
