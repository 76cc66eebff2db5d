import * as m from '$lib/paraglide/messages';

/** A time as one reads it: "under 1 min", "14 min", "1 h 20 min". From an hour on to five minutes: more would pretend. */
export function aboutText(durationMs: number): string {
	const { hours, minutes } = aboutTime(durationMs);
	if (hours > 0) return m.walk_hours_minutes({ hours: String(hours), minutes: String(minutes) });
	return minutes < 1 ? m.walk_under_a_minute() : m.walk_minutes({ minutes: String(minutes) });
}

/** The same as one says it. */
export function spokenTime(durationMs: number): string {
	const { hours, minutes } = aboutTime(durationMs);
	if (hours === 0) return minutes < 1 ? m.say_under_a_minute() : m.say_minutes({ minutes: String(minutes) });
	return minutes === 0 ? m.say_hours({ hours: String(hours) }) : m.say_hours_minutes({ hours: String(hours), minutes: String(minutes) });
}

function aboutTime(durationMs: number): { hours: number; minutes: number } {
	const minutes = Math.round(Math.abs(durationMs) / 60_000);
	if (minutes < 60) return { hours: 0, minutes };
	const rounded = Math.round(minutes / 5) * 5;
	return { hours: Math.floor(rounded / 60), minutes: rounded % 60 };
}

/** A chance as people can picture it, in tenths; never "10 in 10" or "0 in 10", which would promise. */
export const chanceText = (probability: number): string => m.walk_in_ten({ n: String(Math.min(9, Math.max(1, Math.round(probability * 10)))) });

/** Beyond these a chance is said in words only. */
const SURELY = 0.975;
const HARDLY = 0.025;

/** What is said about the booking: fits from 8 in 10, tight below, in words only at both ends. */
export function fitsText(probability: number): string {
	if (probability >= SURELY) return m.walk_visit_surely();
	if (probability < HARDLY) return m.walk_visit_hardly();
	const chance = chanceText(probability);
	return probability >= 0.8 ? m.walk_visit_fits({ chance }) : m.walk_visit_tight({ chance });
}

export interface AboutBooking {
	/** Until the booking's end; negative: it is past. Null without a booking. */
	readonly bookingLeftMs?: number | null;
	/** How times are put: as one reads them, or as one says them. */
	readonly time?: (durationMs: number) => string;
}

/** "23 min left in the visit, 9 in 10 that it fits"; without a booking (fits null) only what is left. */
export function visitLeftText(leftMs: number, fits: number | null, { bookingLeftMs = null, time: put = aboutText }: AboutBooking = {}): string {
	const time = put(leftMs);
	// no chance is left to speak of
	if (bookingLeftMs !== null && bookingLeftMs < 0) return m.walk_visit_left_over({ time, over: put(bookingLeftMs) });
	if (fits === null) return m.walk_visit_left({ time });
	if (fits >= SURELY) return m.walk_visit_left_surely({ time });
	return fits < HARDLY ? m.walk_visit_left_hardly({ time }) : m.walk_visit_left_fits({ time, chance: chanceText(fits) });
}
