import * as m from '$lib/paraglide/messages';
import type { RunStatus } from '$lib/run/state';
import type { Forecast } from '$lib/timing/port';
import { type AboutBooking, visitLeftText } from './time-words';

/** How long the visit still takes and whether it fits, in a sentence that stands for itself: on what it rests, and that a clock stands still. */
export function visitSentence(status: RunStatus, forecast: Pick<Forecast, 'run' | 'fits' | 'basis'> | null, about: AboutBooking): string {
	if (status === 'complete' || status === 'aborted') return m.say_time_over();
	if (!forecast) return m.say_time_unknown();
	const left = visitLeftText(forecast.run.p50Ms, forecast.fits ?? null, about);
	const said = forecast.basis.kind === 'plan' ? m.say_time_by_plan({ left }) : m.say_time({ left });
	if (status === 'paused') return m.say_time_paused({ said: m.walk_if_goes_on({ said }) });
	return status === 'held' ? m.say_time_held({ said: m.walk_if_goes_on({ said }) }) : said;
}
