import type { OpenForecaster, Timekeeper } from '$lib/ports/timekeeper';
import type { Forecast, ForecastQuestion, RunNow } from '$lib/timing/port';
import type { TimeCalls, TimeLine } from './calls';

/** The timekeeper at this end of a line. The line is opened at the first call, and anew after it broke. */
export function lineTimekeeper(open: () => TimeLine): Timekeeper {
	const waiting = new Map<number, { resolve(value: unknown): void; reject(reason: Error): void }>();
	let line: TimeLine | null = null;
	let nextId = 0;
	let nextForecaster = 0;

	function opened(): TimeLine {
		if (line) return line;
		const made = open();
		made.onmessage = ({ data }) => {
			const wait = waiting.get(data.id);
			waiting.delete(data.id);
			if ('fault' in data) wait?.reject(new Error(data.fault));
			else wait?.resolve(data.result);
		};
		made.onerror = (fault) => {
			line = null;
			for (const { reject } of waiting.values()) reject(new Error(`the worker that keeps the time ended: ${fault.message}`));
			waiting.clear();
		};
		return (line = made);
	}

	function call<K extends keyof TimeCalls>(name: K, args: Parameters<TimeCalls[K]>, transfer: Transferable[] = []): ReturnType<TimeCalls[K]> {
		const id = nextId++;
		return new Promise((resolve, reject) => {
			waiting.set(id, { resolve, reject });
			opened().postMessage({ id, call: name, args }, transfer);
		}) as ReturnType<TimeCalls[K]>;
	}

	return {
		factsOf: (journal) => call('factsOf', [journal], [journal.buffer]),
		limit: (...args) => call('limit', args),
		forecaster(procedure, history): OpenForecaster {
			const mine = nextForecaster++;
			let on: TimeLine | null = null;
			return {
				ask: newestOnly(async (now, question) => {
					// a worker that was started anew, even while this one waited, knows nothing of the history
					while (on !== opened()) {
						const fresh = opened();
						await call('open', [mine, procedure, history]);
						on = fresh;
					}
					return call('ask', [mine, now, question]);
				}),
				close: () => void call('close', [mine]).catch(() => undefined) // a worker that is gone has closed it already
			};
		}
	};
}

type Ask = (now: RunNow, question: ForecastQuestion) => Promise<Forecast>;

/** One question at a time; of those that come meanwhile only the newest is asked, the others are answered with null. */
function newestOnly(ask: Ask): OpenForecaster['ask'] {
	let busy = false;
	let next: { run(): void; drop(): void } | null = null;
	const done = () => {
		busy = false;
		const following = next;
		next = null;
		following?.run();
	};
	return (now, question) =>
		new Promise((resolve, reject) => {
			const run = () => {
				busy = true;
				ask(now, question).then(resolve, reject).finally(done);
			};
			next?.drop();
			if (busy) next = { run, drop: () => resolve(null) };
			else run();
		});
}
