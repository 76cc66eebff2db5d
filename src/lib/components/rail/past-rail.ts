import type { RunFacts } from '$lib/run/run-facts';
import type { RailModel } from './model';

/** The rail of a run from its facts, on a scale shared with others. */
export function pastRail(run: RunFacts, scaleToMs: number, text: (localised: Readonly<Record<string, string>>) => string): RailModel {
	return {
		nowMs: run.endMs,
		scaleToMs,
		live: false,
		stages: run.stages.map(({ id, title, short, plannedMs, span }) => ({
			id,
			name: text(title),
			short: text(short),
			plannedMs,
			...(span ? { state: 'walked' as const, startMs: span.fromMs, endMs: span.toMs } : { state: 'left out' as const })
		})),
		bookingEndMs: run.bookingEndMs,
		ends: null,
		fits: null,
		latestStarts: [],
		pauses: run.pauses,
		gaps: run.gaps
	};
}
