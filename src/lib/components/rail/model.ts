/**
 * What the rail draws: one visit on the scale of time. All times are milliseconds since the run began, as the clock on the
 * wall passes (pauses included), so that the booking's end stands on the same scale.
 */
import type { Span } from '$lib/run/spans';

export type { Span };

/** A moment with its spread: no later than `p10Ms` in one case of ten, `p50Ms` in five, `p90Ms` in nine. */
export interface Spread {
	readonly p10Ms: number;
	readonly p50Ms: number;
	readonly p90Ms: number;
}

export interface RailStage {
	readonly id: string;
	/** As the procedure names it, and its short name. */
	readonly name: string;
	readonly short: string;
	readonly state: 'walked' | 'running' | 'to come' | 'left out';
	/** When it began and ended; absent where it has not yet. */
	readonly startMs?: number;
	readonly endMs?: number;
	readonly plannedMs: number;
	/** Forecast: when it begins (to come) and when it ends (running, to come). */
	readonly begins?: Spread;
	readonly ends?: Spread;
}

export interface RailModel {
	readonly nowMs: number;
	/** Where the scale ends, so that several rails share one; absent: where this rail's own moments end. */
	readonly scaleToMs?: number;
	/** The run still goes on: the now-line is drawn. */
	readonly live: boolean;
	/** In walking order. */
	readonly stages: readonly RailStage[];
	readonly bookingEndMs: number | null;
	/** Likely end of the run; null where it is over or nothing is known. */
	readonly ends: Spread | null;
	/** Probability that the visit fits the booking; null without one. */
	readonly fits: number | null;
	/** Latest starts, the most important first; usually the return of the tip alone. */
	readonly latestStarts: readonly { readonly stage: string; readonly name: string; readonly atMs: number }[];
	readonly pauses: readonly Span[];
	/** Where the clocks could not tell how long it was. */
	readonly gaps: readonly Span[];
}
