/**
 * Time of a visit of a step, a stage or a run. Only what both clocks agree on is counted as time; the rest is shown as
 * gaps with what the wall clock says of them, and enters no duration (J10).
 */
export interface Totals {
	/** Measured while running. */
	readonly elapsedMs: number;
	/** Measured while paused. */
	readonly pausedMs: number;
	/** Measured while held. */
	readonly heldMs: number;
	/** Stretches that were not measured, and what the wall clock says of them together. */
	readonly gaps: number;
	readonly gapWallMs: number;
}

export const noTime: Totals = { elapsedMs: 0, pausedMs: 0, heldMs: 0, gaps: 0, gapWallMs: 0 };

export const plus = (a: Totals, b: Totals): Totals => ({
	elapsedMs: a.elapsedMs + b.elapsedMs,
	pausedMs: a.pausedMs + b.pausedMs,
	heldMs: a.heldMs + b.heldMs,
	gaps: a.gaps + b.gaps,
	gapWallMs: a.gapWallMs + b.gapWallMs
});
