import type { Clock } from '$lib/ports/clock';
import type { JournalStore } from '$lib/ports/journal-store';
import { plannedProcedure, runNow } from '$lib/run/ahead';
import { pastRunOf } from '$lib/run/durations';
import { timelineOf } from '$lib/run/timeline';
import { createMeanForecast } from '$lib/timing/mean-forecast';
import type { Forecast, Forecaster, PastRun, RunNow } from '$lib/timing/port';
import type { Walk } from './walk.svelte';

/** The forecast of a run, kept up to every event and every second. */
export interface Forecasting {
	/** Null until the history has been read. */
	readonly forecast: Forecast | null;
	/** Recomputes for this moment. */
	tick(): void;
}

/** Past runs of this procedure on this device, the run itself and demo runs left out. */
async function pastRuns(store: JournalStore, walk: Walk): Promise<PastRun[]> {
	const { edition } = walk.state;
	const listed = (await store.list()).filter(({ run, invented }) => run !== walk.run && !invented);
	const past: PastRun[] = [];
	for (const { run } of listed) {
		const { events } = await store.open(run);
		const first = events[0];
		if (first?.kind !== 'begun' || first.data.edition.id !== edition.id) continue;
		const found = pastRunOf(timelineOf(events));
		if (found) past.push(found);
	}
	return past;
}

export function createForecasting(walk: Walk, store: JournalStore, clock: Clock): Forecasting {
	let forecaster: Forecaster | null = null;
	let forecast = $state.raw<Forecast | null>(null);
	let base: { seq: number; now: RunNow; mono: number } | null = null;

	function tick(): void {
		if (!forecaster || walk.state.seq < 0) return;
		const stamp = clock.now();
		// between events only the clock moves: what was done and what is to come is read once an event
		if (base?.seq !== walk.state.seq) base = { seq: walk.state.seq, now: runNow(walk.timeline, stamp), mono: stamp.mono };
		const sinceMs = walk.state.status === 'running' ? stamp.mono - base.mono : 0;
		const { running } = base.now;
		forecast = forecaster.forecast({
			...base.now,
			nowAtMs: clock.wallMs(),
			...(running ? { running: { ...running, elapsedMs: running.elapsedMs + sinceMs } } : {})
		});
	}

	void pastRuns(store, walk).then((past) => {
		forecaster = createMeanForecast(plannedProcedure(walk.state.edition), past);
		tick();
	});
	return {
		get forecast() {
			return forecast;
		},
		tick
	};
}
