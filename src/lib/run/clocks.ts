/** The two clocks of an event: wall clock and monotonic clock. */
export interface Clocks {
	readonly at: string;
	readonly mono: number;
	readonly boot: string;
}

/**
 * How far the two clocks may drift apart in a stretch and still agree. One second for rounding, throttled timers and a
 * small step of time synchronisation; 500 ppm because a synchronised clock may be slewed by that much (RFC 5905: the
 * discipline's frequency tolerance, from memory).
 */
export const TOLERANCE_MS = 1000;
export const TOLERANCE_PPM = 500;

/** Milliseconds between two moments by the wall clock; offsets from UTC are accounted for. NaN where a moment is none. */
export const wallMs = (from: Pick<Clocks, 'at'>, to: Pick<Clocks, 'at'>): number =>
	Date.parse(to.at) - Date.parse(from.at);

/** Milliseconds by the monotonic clock. Means something only within one `boot`. */
export const elapsedMs = (from: Pick<Clocks, 'mono'>, to: Pick<Clocks, 'mono'>): number => to.mono - from.mono;

/** Whether a duration between two moments is measured (J10): one boot, monotonic clock not backwards, both clocks alike. */
export function clocksAgree(from: Clocks, to: Clocks): boolean {
	const mono = elapsedMs(from, to);
	if (from.boot !== to.boot || !(mono >= 0)) return false;
	return Math.abs(wallMs(from, to) - mono) <= TOLERANCE_MS + (mono * TOLERANCE_PPM) / 1e6;
}
