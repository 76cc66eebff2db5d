import type { Chance } from '$lib/ports/chance';
import type { Clock } from '$lib/ports/clock';
import { rfc3339 } from '$lib/record/rfc3339';

/**
 * The device's two clocks. `mono` is performance.now in whole milliseconds: it begins anew with the page, so each page is
 * its own `boot`; it may stand still while the device sleeps, which shows against the wall clock.
 */
export function browserClock(chance: Chance): Clock {
	const boot = chance.id();
	return {
		zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
		now() {
			const [wallMs, mono] = [Date.now(), Math.round(performance.now())];
			return { at: rfc3339(wallMs, -new Date(wallMs).getTimezoneOffset()), mono, boot };
		},
		wallMs: () => Date.now(),
		every(everyMs, tick) {
			const timer = setInterval(tick, everyMs);
			return () => clearInterval(timer);
		},
		after(afterMs, then) {
			const timer = setTimeout(then, afterMs);
			return () => clearTimeout(timer);
		}
	};
}
