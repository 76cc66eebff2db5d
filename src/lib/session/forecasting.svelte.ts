import type { OpenForecaster } from '$lib/ports/timekeeper';
import type { SettingsStore } from '$lib/ports/settings';
import { plannedProcedure, runNow } from '$lib/run/ahead';
import { type BeamTimesMs, procedureWith, runWith } from '$lib/run/beam-times';
import { returnStageOf } from '$lib/run/return-stage';
import { createMeanForecast } from '$lib/timing/mean-forecast';
import type { Forecast, RunNow } from '$lib/timing/port';
import { type ReturnWarning, returnWarning } from '$lib/timing/return-warning';
import { CUTTING_KEY } from './cutting-key';
import type { Device } from './device.svelte';
import { readRunFacts } from './run-facts';
import type { Walk } from './walk.svelte';
import { createWarned } from './warned';

/** The forecast of a run, kept up to every event and every second. */
export interface Forecasting {
	/** Planned durations until the history has been read; null before the run's first event. */
	readonly forecast: Forecast | null;
	/** Why the full forecast is missing, and planned durations stand in; null where all is well. */
	readonly fault: string | null;
	/** That the latest start of the return comes near; null while it does not. */
	readonly warning: ReturnWarning | null;
	/** Why this device does not keep that it warned, so that it may say so again; null where all is well. */
	readonly notKept: string | null;
	/** Recomputes for this moment. Cheap: the work is done elsewhere, and answers come when they are ready. */
	tick(): void;
	close(): void;
}

/** Same journal, same history: same seed, same numbers. */
const seedOf = (run: string): number => parseInt(run.slice(0, 7), 16);

/** Times from this device's plan of cuts; none where none is kept. The walk does without that code until it is asked. */
async function plannedBeam(settings: SettingsStore, edition: string): Promise<BeamTimesMs> {
	if ((await settings.load(CUTTING_KEY)) === undefined) return {};
	const [{ loadCutting }, { stepTimesMs }] = await Promise.all([import('./cutting.svelte'), import('$lib/metrology/keptCuts')]);
	return stepTimesMs(await loadCutting(settings), edition);
}

/** `onwarn` is called once a run for each kind of warning, and anew if the booking is moved. */
export function createForecasting(walk: Walk, device: Pick<Device, 'store' | 'settings' | 'timekeeper' | 'clock'>, onwarn: (warning: ReturnWarning) => void): Forecasting {
	const { clock } = device;
	let procedure = plannedProcedure(walk.state.edition);
	let planned = createMeanForecast(procedure, []);
	let beam: BeamTimesMs = {};
	let full: OpenForecaster | null = null;
	let forecast = $state.raw<Forecast | null>(null);
	let fault = $state.raw<string | null>(null);
	let warning = $state.raw<ReturnWarning | null>(null);
	let notKept = $state.raw<string | null>(null);
	const returning = returnStageOf(walk.state.edition);
	const warned = createWarned(device.settings, walk.run, (thrown) => (notKept = messageOf(thrown)));
	let base: { seq: number; now: RunNow; mono: number } | null = null;
	/** The history has been read, or could not be: until then nothing is said aloud. */
	let read = false;
	let closed = false;
	let due = false;

	/** The run at this moment. Between events only the clock moves: what was done and what is to come is read once an event. */
	function atThisMoment(): RunNow {
		const stamp = clock.now();
		if (base?.seq !== walk.state.seq) base = { seq: walk.state.seq, now: runWith(runNow(walk.timeline, stamp), beam), mono: stamp.mono };
		const sinceMs = walk.state.status === 'running' ? stamp.mono - base.mono : 0;
		const { running } = base.now;
		return { ...base.now, nowAtMs: clock.wallMs(), ...(running ? { running: { ...running, elapsedMs: running.elapsedMs + sinceMs } } : {}) };
	}

	async function update(): Promise<void> {
		due = false;
		if (closed || walk.state.seq < 0) return;
		const now = atThisMoment();
		try {
			const answer = full ? await full.ask(now, { seed: seedOf(walk.run) }) : planned.forecast(now);
			if (answer) show(answer, now);
			if (full) fault = null;
		} catch (thrown) {
			fault = messageOf(thrown);
			show(planned.forecast(now), now);
		}
	}

	function show(answer: Forecast, { nowAtMs, bookingEndAtMs }: RunNow): void {
		forecast = answer;
		warning = returning === null ? null : returnWarning(warning, answer, nowAtMs, returning);
		if (!warning || !read || walk.state.status !== 'running') return;
		if (warned.first(`${warning.kind} ${bookingEndAtMs}`)) onwarn(warning);
	}

	/** This device's plan of cuts goes before what the procedure plans for those steps. */
	async function takePlannedBeam(): Promise<void> {
		beam = await plannedBeam(device.settings, procedure.id);
		base = null;
		procedure = procedureWith(procedure, beam);
		planned = createMeanForecast(procedure, []);
	}

	async function openFull(): Promise<void> {
		await takePlannedBeam();
		const { facts } = await readRunFacts(device, { skip: walk.run });
		if (closed) return;
		const past = facts.filter((run) => run.run !== walk.run && !run.invented && run.past.procedure === procedure.id);
		full = device.timekeeper.forecaster(procedure, past.map((run) => run.past));
		await update();
	}
	void update();
	void openFull()
		.catch((thrown: unknown) => (fault = messageOf(thrown)))
		.then(() => warned.ready)
		.then(() => (read = true));

	return {
		get forecast() {
			return forecast;
		},
		get warning() {
			return warning;
		},
		get fault() {
			return fault;
		},
		get notKept() {
			return notKept;
		},
		tick() {
			// what was pressed is painted first
			if (!due) clock.after(0, () => void update());
			due = true;
		},
		close() {
			closed = true;
			full?.close();
		}
	};
}

const messageOf = (thrown: unknown): string => (thrown instanceof Error ? thrown.message : String(thrown));
