import type { Edition, Localised, Stage, StageId, StepPath } from '$lib/procedure/edition';
import type { PastRun } from '$lib/timing/port';
import { pastRunOf } from './durations';
import { listed, type Row, rowsOf, takenBack } from './rows';
import { type Span, spansOf } from './spans';
import { timeByStage, type Timeline } from './timeline';
import type { Totals } from './totals';

/** What the history, the people's page and the forecast want of a run: plain data, drawn from its journal once. */
export interface RunFacts {
	readonly run: string;
	readonly invented: boolean;
	readonly past: PastRun;
	readonly title: Localised;
	readonly supervisor: string | null;
	readonly sample: string;
	/** All in ms since the run began. */
	readonly endMs: number;
	readonly bookingEndMs: number | null;
	readonly pauses: readonly Span[];
	readonly gaps: readonly Span[];
	/** In the procedure's order. */
	readonly stages: readonly StageFacts[];
	/** How far off the place was that an adjust loop set right: the first measurement of each loop. */
	readonly offsets: readonly FoundOffset[];
}

export interface StageFacts {
	readonly id: StageId;
	readonly title: Localised;
	readonly short: Localised;
	readonly plannedMs: number;
	readonly span: Span | null;
	/** Measured time in it, troubles included; null where it was not walked to its end or a stretch was not measured. */
	readonly timeMs: number | null;
	readonly attempt: Attempt | null;
}

/**
 * How a stage was walked to its end: `well` without a trouble and without a step done again, else why not. Null in `StageFacts` where it
 * was left out, or the run ended in it: that is no attempt.
 */
export type Attempt = 'well' | 'trouble' | 'again';

export interface FoundOffset {
	readonly step: StepPath;
	readonly reading: string;
	readonly name: Localised;
	readonly value: number;
	readonly unit: string;
}

/** Facts of a run up to its last event. Null for a run that never began. */
export function runFactsOf(timeline: Timeline): RunFacts | null {
	const { state } = timeline;
	const past = pastRunOf(timeline);
	if (!past || !timeline.last) return null;
	const rows = rowsOf(timeline).filter((row) => !row.undone);
	const spans = spansOf(timeline, Date.parse(timeline.last.at));
	const givenUp = visitsGivenUp(timeline);
	const times = timeByStage(timeline);
	return {
		run: state.run,
		invented: inventedIn(timeline),
		past,
		title: state.edition.title,
		supervisor: state.supervisor,
		sample: state.sample,
		endMs: spans.nowMs,
		bookingEndMs: state.booking ? Date.parse(state.booking.end) - spans.begunAtMs : null,
		pauses: spans.pauses,
		gaps: spans.gaps,
		stages: state.edition.stages.map((stage) => stageFacts(stage, times[stage.id], rows, givenUp, spans.stages.get(stage.id) ?? null)),
		offsets: rows.flatMap((row) => offsetsOf(row, state.edition))
	};
}

/** Visits of steps in which the end of the visit began, by decision or because a trouble leads there. */
function visitsGivenUp(timeline: Timeline): ReadonlySet<number> {
	const undone = takenBack(timeline);
	return new Set(listed(timeline.entries).flatMap(({ visit, event }) => (event.kind === 'endBegun' && !undone.has(event.seq) ? [visit] : [])));
}

function inventedIn({ entries }: Timeline): boolean {
	let at = entries;
	while (at?.before) at = at.before;
	return at?.item.event.kind === 'begun' && at.item.event.data.invented === true;
}

function stageFacts(stage: Stage, time: Totals | undefined, rows: readonly Row[], givenUp: ReadonlySet<number>, span: Span | null): StageFacts {
	const mine = rows.filter((row) => row.stage === stage.id && row.end !== 'left out');
	const ended = mine.length > 0 && !mine.some(({ seq, end }) => end === null || end === 'run' || givenUp.has(seq));
	return {
		id: stage.id,
		title: stage.title,
		short: stage.short,
		plannedMs: stage.plannedMs,
		span: mine.length > 0 ? span : null,
		timeMs: ended && time && time.gaps === 0 ? time.elapsedMs : null,
		attempt: ended ? attemptOf(mine) : null
	};
}

function attemptOf(rows: readonly Row[]): Attempt {
	if (rows.some(({ trouble, troubles }) => trouble !== null || troubles.some(({ undone }) => !undone))) return 'trouble';
	return rows.some(({ visit }) => visit > 1) ? 'again' : 'well';
}

function offsetsOf({ path, readings }: Row, edition: Edition): FoundOffset[] {
	const step = edition.steps[path];
	if (!step?.adjust) return [];
	return readings
		.filter(({ round, undone }) => round === 1 && !undone)
		.map(({ reading, value, unit }) => ({ step: path, reading, name: step.readings.find(({ id }) => id === reading)?.name ?? {}, value, unit }));
}
