import { journalText } from '$lib/record/journal-text';
import { readJournal } from '$lib/record/read-journal';
import { SharedEditions } from '$lib/record/shared-editions';
import { runFactsOf } from '$lib/run/run-facts';
import { timelineOf } from '$lib/run/timeline';
import { chooseLimit } from '$lib/timing/charts/sign-off';
import { createForecast } from '$lib/timing/forecast';
import type { Forecaster } from '$lib/timing/port';
import type { TimeAnswer, TimeCall, TimeCalls } from './calls';

/** The worker's side of the timekeeper: pure work, one call after another. */
export function serveTime(answer: (answer: TimeAnswer) => void): (call: TimeCall) => void {
	const forecasters = new Map<number, Forecaster>();
	const editions = new SharedEditions();
	const calls: TimeCalls = {
		async factsOf(bytes) {
			const { events } = readJournal(journalText(bytes), editions);
			return events.length > 0 ? runFactsOf(timelineOf(events)) : null;
		},
		limit: async (kind, rates, mostFalse, attempts) => chooseLimit(kind, rates, mostFalse, attempts),
		async open(forecaster, procedure, history) {
			forecasters.set(forecaster, createForecast(procedure, history));
		},
		async ask(forecaster, now, question) {
			const found = forecasters.get(forecaster);
			if (!found) throw new Error('the forecast was not opened, or is closed');
			return found.forecast(now, question);
		},
		async close(forecaster) {
			forecasters.delete(forecaster);
		}
	};
	return ({ id, call, args }) => {
		const work = calls[call] as (...args: unknown[]) => Promise<unknown>;
		work(...args).then(
			(result) => answer({ id, result }),
			(fault: unknown) => answer({ id, fault: fault instanceof Error ? fault.message : String(fault) })
		);
	};
}
