export { aboutText, chanceText, fitsText } from '$lib/session/time-words';

/** A running time: "0:42", "12:05", "1:02:09". Negative and fractional milliseconds count as the seconds begun. */
export function clockText(elapsedMs: number): string {
	const seconds = Math.floor(Math.abs(elapsedMs) / 1000);
	const two = (n: number) => String(n).padStart(2, '0');
	const [h, min, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
	return h > 0 ? `${h}:${two(min)}:${two(s)}` : `${min}:${two(s)}`;
}
