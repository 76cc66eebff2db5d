/**
 * The warning that the latest start of the return comes near. Rule: it is raised when the latest start is less than 20 minutes away
 * (`near`), or when the return is more likely to begin after it than before (`likely late`); it is taken back when the return has begun,
 * or when the return begins in time at the stated probability and its latest start is far off again.
 */
import type { Forecast, LeaveOut } from './port';

export interface ReturnWarning {
	readonly stage: string;
	readonly kind: 'near' | 'likely late';
	/** On the caller's clock, as in the forecast. */
	readonly latestStartAtMs: number;
	/** Probability that the return begins by then. */
	readonly inTime: number;
	/** Fewest optional stages that make the visit fit at the stated probability; where none do, those that help most. Null: nothing helps. */
	readonly leaveOut: (LeaveOut & { readonly enough: boolean }) | null;
}

/** Ahead, so that a stage can still be dropped; our choice. */
export const WARN_AHEAD_MS = 20 * 60_000;

/** The warning that stands now: raised, kept with new numbers, or null. `stage` is the return's. */
export function returnWarning(
	before: ReturnWarning | null,
	forecast: Forecast,
	nowAtMs: number,
	stage: string
): ReturnWarning | null {
	const coming = forecast.stages.find((each) => each.stage === stage && !each.running);
	if (coming?.latestStartAtMs === undefined || coming.inTime === undefined) return null;
	const { latestStartAtMs, inTime } = coming;
	const near = latestStartAtMs - nowAtMs <= WARN_AHEAD_MS;
	const late = inTime < 0.5 || (before !== null && inTime < forecast.surety);
	if (!near && !late) return null;
	return { stage, kind: near ? 'near' : 'likely late', latestStartAtMs, inTime, leaveOut: helpOf(forecast) };
}

function helpOf({ leaveOut, surety, fits = 0 }: Forecast): ReturnWarning['leaveOut'] {
	// the latest start can come near in a visit that fits: then there is nothing to make fit
	if (fits >= surety) return null;
	const enough = leaveOut.find((entry) => entry.fits >= surety);
	if (enough) return { ...enough, enough: true };
	const best = leaveOut.at(-1);
	return best && best.fits > fits ? { ...best, enough: false } : null;
}
