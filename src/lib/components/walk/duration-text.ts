import * as m from '$lib/paraglide/messages';

/** A running time: "0:42", "12:05", "1:02:09". Negative and fractional milliseconds count as the seconds begun. */
export function clockText(elapsedMs: number): string {
	const seconds = Math.floor(Math.abs(elapsedMs) / 1000);
	const two = (n: number) => String(n).padStart(2, '0');
	const [h, min, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
	return h > 0 ? `${h}:${two(min)}:${two(s)}` : `${min}:${two(s)}`;
}

/** A time as one says it: "under 1 min", "14 min", "1 h 20 min". From an hour on to five minutes: more would pretend. */
export function aboutText(durationMs: number): string {
	const minutes = Math.round(Math.abs(durationMs) / 60_000);
	if (minutes < 1) return m.walk_under_a_minute();
	if (minutes < 60) return m.walk_minutes({ minutes: String(minutes) });
	const rounded = Math.round(minutes / 5) * 5;
	return m.walk_hours_minutes({ hours: String(Math.floor(rounded / 60)), minutes: String(rounded % 60) });
}

/** A chance as people can picture it, in twentieths; never "20 in 20" or "0 in 20", which would promise. */
export function chanceText(probability: number): string {
	const n = Math.min(19, Math.max(1, Math.round(probability * 20)));
	return m.walk_in_twenty({ n: String(n) });
}

/** What is said about the booking: fits from 8 in 10, tight below, in words only at both ends. */
export function fitsText(probability: number): string {
	if (probability >= 0.975) return m.walk_visit_surely();
	if (probability < 0.025) return m.walk_visit_hardly();
	const chance = chanceText(probability);
	return probability >= 0.8 ? m.walk_visit_fits({ chance }) : m.walk_visit_tight({ chance });
}
