/**
 * RFC 3339 stamp with milliseconds and the offset in force: `offsetMin` is minutes east of UTC, as people count it
 * (Date.getTimezoneOffset has the other sign). Years 0 to 9999.
 */
export function rfc3339(wallMs: number, offsetMin: number): string {
	const sign = offsetMin < 0 ? '-' : '+';
	const size = Math.abs(offsetMin);
	const two = (n: number) => String(n).padStart(2, '0');
	return `${new Date(wallMs + offsetMin * 60_000).toISOString().slice(0, -1)}${sign}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}
