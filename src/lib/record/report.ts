import type { Edition, Localised, StepPath } from '$lib/procedure/edition';
import type { Booking, EventData, ForeignEvent, JournalEvent } from '$lib/run/events';
import { listed, type Row, rowsOf, takenBack } from '$lib/run/rows';
import type { RunStatus } from '$lib/run/state';
import { timeByStage, timelineOf } from '$lib/run/timeline';
import { noTime, type Totals } from '$lib/run/totals';
import type { ReadJournal } from './read-journal';

/**
 * What the exports tell of a run: a plain summary of its journal, put together once for all formats. Texts of the edition
 * are in its first language; durations are in milliseconds and only what was measured.
 */
export interface Report {
	readonly begun: EventData['begun'];
	readonly title: string;
	readonly run: string;
	readonly people: readonly string[];
	readonly supervisor: string | null;
	readonly sample: string;
	readonly project: string;
	readonly devices: readonly string[];
	readonly booking: Booking | null;
	readonly status: RunStatus;
	readonly beganAt: string;
	readonly lastAt: string;
	readonly clockOffsetMs: number;
	readonly count: number;
	readonly head: string;
	readonly fault: ReadJournal['fault'];
	readonly totals: Totals;
	readonly stages: readonly StageLine[];
	readonly rows: readonly Row[];
	readonly readings: readonly ReadingLine[];
	readonly troubles: readonly TroubleLine[];
	readonly events: readonly EventLine[];
	/** Kinds that this version does not understand. */
	readonly foreign: ReadonlySet<string>;
	/** Words of the edition. */
	stepTitle(path: StepPath): string;
	stageTitle(id: string): string;
	troubleTitle(id: string): string;
	answer(path: StepPath, outcome: string): string;
	part(id: string, condition: string): string;
}

export interface StageLine {
	readonly id: string;
	readonly title: string;
	readonly plannedMs: number;
	readonly time: Totals;
	readonly beganAt: string | null;
	readonly endedAt: string | null;
	/** `left out` with its reason, or never reached. */
	readonly leftOut: string | null;
	readonly reached: boolean;
}

export interface ReadingLine {
	readonly event: Extract<JournalEvent, { kind: 'reading' }>;
	readonly name: string;
	readonly undone: boolean;
}

export interface TroubleLine {
	readonly event: Extract<JournalEvent, { kind: 'trouble' }>;
	readonly title: string;
	readonly undone: boolean;
	readonly wayBack: { readonly at: string; readonly to: StepPath | 'safe end' } | null;
}

/** An event with the visit of the step it happened in. */
export interface EventLine {
	readonly event: JournalEvent | ForeignEvent;
	readonly row: Row | null;
	readonly undone: boolean;
}

/** Throws RangeError for a journal without a genesis: there is nothing to report. */
export function reportOf({ events, fault }: ReadJournal): Report {
	const first = events[0];
	if (first?.kind !== 'begun') throw new RangeError(`there is nothing to export: ${fault?.reason ?? 'the journal has no event 0'}`);
	const timeline = timelineOf(events);
	const { state } = timeline;
	const rows = rowsOf(timeline);
	const undone = takenBack(timeline);
	const names = namesOf(first.data.edition.body);
	const byVisit = new Map(rows.map((row) => [row.seq, row]));
	const visits = new Map(listed(timeline.entries).map(({ visit, event }) => [event.seq, visit]));
	const times = timeByStage(timeline);
	const leftOut = leftOutStages(events, undone);
	const last = events[events.length - 1]!;
	return {
		begun: first.data,
		title: names.text(first.data.edition.body.title),
		run: first.run,
		people: [...new Set(events.map(({ by }) => by))],
		supervisor: state.supervisor,
		sample: state.sample,
		project: state.project,
		devices: [...new Set(events.map(({ device }) => device))],
		booking: state.booking,
		status: state.status,
		beganAt: first.at,
		lastAt: last.at,
		clockOffsetMs: state.clockOffsetMs,
		count: events.length,
		head: last.hash,
		fault,
		totals: timeline.run,
		stages: first.data.edition.body.stages.map((stage) => stageLine(stage, rows, times[stage.id] ?? noTime, leftOut, names)),
		rows,
		readings: events.flatMap((event) => (event.kind === 'reading' && event.data.confirmed ? [{ event, name: names.reading(event.data.step, event.data.reading), undone: undone.has(event.seq) }] : [])),
		troubles: troubleLines(events, undone, names.trouble),
		// an entry belongs to the visit that it begins
		events: events.map((event) => ({ event, row: byVisit.get(event.seq) ?? byVisit.get(visits.get(event.seq) ?? -1) ?? null, undone: undone.has(event.seq) })),
		foreign: new Set(Object.keys(state.foreign)),
		stepTitle: names.step,
		stageTitle: names.stage,
		troubleTitle: names.trouble,
		answer: names.answer,
		part: names.part
	};
}

type Names = ReturnType<typeof namesOf>;

function namesOf(edition: Edition) {
	const language = edition.languages[0] ?? 'en';
	const text = (localised: Localised | undefined) => localised?.[language] ?? '';
	const named = <T extends { id: string }>(list: readonly T[], id: string, name: (item: T) => Localised) => {
		const item = list.find((one) => one.id === id);
		return (item && text(name(item))) || id;
	};
	return {
		text,
		step: (path: StepPath) => edition.steps[path]?.words[language]?.short ?? path,
		stage: (id: string) => named(edition.stages, id, ({ title }) => title),
		trouble: (id: string) => named(edition.troubles, id, ({ title }) => title),
		answer: (path: StepPath, outcome: string) => named(edition.steps[path]?.outcomes ?? [], outcome, ({ answer }) => answer),
		reading: (path: StepPath, id: string) => named(edition.steps[path]?.readings ?? [], id, ({ name }) => name),
		part(id: string, condition: string) {
			const part = edition.parts.find((one) => one.id === id);
			return `${(part && text(part.name)) || id}: ${named(part?.conditions ?? [], condition, ({ name }) => name)}`;
		}
	};
}

function leftOutStages(events: readonly JournalEvent[], undone: ReadonlySet<number>): ReadonlyMap<string, string> {
	return new Map(events.flatMap(({ kind, data, seq }) => (kind === 'skipped' && data.stage !== undefined && !undone.has(seq) ? [[data.stage, data.reason]] : [])));
}

function stageLine({ id, title, plannedMs }: Edition['stages'][number], rows: readonly Row[], time: Totals, leftOut: ReadonlyMap<string, string>, names: Names): StageLine {
	const mine = rows.filter((row) => row.stage === id && !row.undone);
	const last = mine[mine.length - 1];
	return {
		id,
		title: names.text(title),
		plannedMs,
		time,
		beganAt: mine[0]?.entered.at ?? null,
		endedAt: last?.ended?.at ?? null,
		leftOut: leftOut.get(id) ?? null,
		reached: mine.length > 0
	};
}

/** Each trouble with the way back that closed it: the innermost open one of that name. */
function troubleLines(events: readonly JournalEvent[], undone: ReadonlySet<number>, title: (id: string) => string): TroubleLine[] {
	const lines: { event: TroubleLine['event']; wayBack: TroubleLine['wayBack'] }[] = [];
	for (const event of events) {
		if (event.kind === 'trouble') lines.push({ event, wayBack: null });
		if (event.kind !== 'wayBack' || undone.has(event.seq)) continue;
		const open = lines.findLast((line) => line.wayBack === null && line.event.data.trouble === event.data.trouble && !undone.has(line.event.seq));
		if (open) open.wayBack = { at: event.at, to: event.data.to };
	}
	return lines.map((line) => ({ ...line, title: title(line.event.data.trouble), undone: undone.has(line.event.seq) }));
}
