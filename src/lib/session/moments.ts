import { rfc3339 } from '$lib/record/rfc3339';

/** Times as people read them; the same everywhere. */

/** "0:42", "14:06", "2:05:09". */
export function clockText(ms: number): string {
	const seconds = Math.max(0, Math.floor(ms / 1000));
	const [h, min, s] = [Math.floor(seconds / 3600), Math.floor((seconds % 3600) / 60), seconds % 60];
	const two = (n: number) => String(n).padStart(2, '0');
	return h ? `${h}:${two(min)}:${two(s)}` : `${min}:${two(s)}`;
}

/** Whole minutes, at least 1 while anything is left. */
export const minutesOf = (ms: number): number => (ms <= 0 ? 0 : Math.max(1, Math.round(ms / 60_000)));

/** Making a format costs as much as hundreds of uses. */
const timesOfDay = new Map<string, Intl.DateTimeFormat>();
const days = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium' });

/** Time of day, "14:06", in the device's zone. */
export function timeOfDay(epochMs: number, locale: string): string {
	const format = timesOfDay.get(locale) ?? new Intl.DateTimeFormat(locale === 'en' ? 'en-GB' : locale, { hour: '2-digit', minute: '2-digit' });
	timesOfDay.set(locale, format);
	return format.format(epochMs);
}

/** A day, "2 Mar 2026", in the device's zone. */
export const dayText = (epochMs: number): string => days.format(epochMs);

/** RFC 3339 in the device's zone, milliseconds included. */
export const localStamp = (epochMs: number): string => rfc3339(epochMs, -new Date(epochMs).getTimezoneOffset());

/** The next moment at which the clock of the device shows `hh:mm`, at or after `from`. */
export function nextTimeOfDay(hhmm: string, fromMs: number): number | null {
	const match = /^([01]?\d|2[0-3]):([0-5]\d)$/.exec(hhmm.trim());
	if (!match) return null;
	const date = new Date(fromMs);
	date.setHours(Number(match[1]), Number(match[2]), 0, 0);
	if (date.getTime() < fromMs) date.setDate(date.getDate() + 1);
	return date.getTime();
}
