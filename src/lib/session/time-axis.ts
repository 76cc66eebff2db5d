import * as m from '$lib/paraglide/messages';

/** The unit in which a series of times is drawn and tabled. */
export interface TimeAxis {
	readonly unit: string;
	readonly unitMs: number;
	/** A time in this unit, without the unit. */
	text(ms: number): string;
}

/** Where no time is longer, minutes would all be 0, 1 or 2. */
const SECONDS_UP_TO_MS = 5 * 60_000;

export function timeAxis(timesMs: readonly number[]): TimeAxis {
	const [unit, unitMs] = timesMs.every((ms) => ms <= SECONDS_UP_TO_MS) ? [m.people_seconds(), 1000] : [m.people_minutes(), 60_000];
	return { unit, unitMs, text: (ms) => String(Math.round(ms / unitMs)) };
}
