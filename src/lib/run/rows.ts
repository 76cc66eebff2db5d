import type { StageId, StepPath, TroubleId } from '$lib/procedure/edition';
import type { EventData, JournalEvent } from './events';
import type { EventStamp, Frame } from './state';
import type { Gap } from './stretch';
import type { Chain, Segment, Timeline } from './timeline';
import { noTime, plus, type Totals } from './totals';

export type GapAnswer = 'working' | 'away' | 'unknown';
/** A gap with its answer; null: asked still. */
export type AnsweredGap = Gap & { readonly answer: GapAnswer | null };
export interface RowReading {
	readonly seq: number;
	readonly reading: string;
	readonly value: number;
	readonly unit: string;
	readonly uncertainty: number | null;
	readonly round: number;
	readonly undone: boolean;
}

/** One visit of one step: what the timeline shows in a line. */
export interface Row {
	/** Sequence number of its `stepEntered`. */
	readonly seq: number;
	readonly path: StepPath;
	/** For a trouble's step: the stage in which the trouble was called. */
	readonly stage: StageId;
	readonly trouble: TroubleId | null;
	readonly visit: number;
	readonly entered: EventStamp;
	readonly ended: EventStamp | null;
	/** How it ended: by an outcome, left out, interrupted by a trouble or by ending the visit, or with the run. */
	readonly end: 'outcome' | 'left out' | 'trouble' | 'end visit' | 'run' | null;
	readonly outcome: string | null;
	readonly reason: string | null;
	/** Left of a wait that was cut short. */
	readonly earlyMs: number | null;
	readonly time: Totals;
	readonly gaps: readonly AnsweredGap[];
	readonly readings: readonly RowReading[];
	readonly notes: readonly {
		readonly seq: number;
		readonly at: string;
		readonly text: string;
		readonly sound: string | null;
	}[];
	readonly attachments: readonly (EventData['attachment'] & { readonly seq: number; readonly at: string })[];
	/** Troubles called in this visit. */
	readonly troubles: readonly { readonly seq: number; readonly trouble: TroubleId; readonly undone: boolean }[];
	/** What was said to have been done earlier, of this step. */
	readonly late: readonly (EventData['late'] & { readonly seq: number })[];
	readonly confirmed: boolean;
	/** The entry was taken back. */
	readonly undone: boolean;
}

/** A chain as an array, oldest first. */
export function listed<T>(chain: Chain<T> | null): T[] {
	const items: T[] = [];
	for (let at = chain; at; at = at.before) items.push(at.item);
	return items.reverse();
}

/** Events that were taken back. */
export function takenBack(timeline: Timeline): ReadonlySet<number> {
	return new Set(listed(timeline.entries).flatMap(({ event }) => (event.kind === 'undone' ? event.data.events : [])));
}

/** All gaps with their answers, oldest first. */
export function gapsOf(timeline: Timeline): readonly (AnsweredGap & { readonly visit: number })[] {
	const answers = new Map<number, GapAnswer>();
	for (const { event } of listed(timeline.entries))
		if (event.kind === 'choice' && event.data.ask === 'gap') answers.set(event.data.seq, event.data.answer);
	return listed(timeline.gaps).map((gap) => ({ ...gap, answer: answers.get(gap.fromSeq) ?? null }));
}

/** Segments that were walked, oldest first, the open one last. */
export const segmentsOf = ({ closed, open }: Timeline): readonly Segment[] => [...listed(closed), open];

/** One row a visit, in the order entered. Costs as much as the run is long: for the timeline and the exports. */
export function rowsOf(timeline: Timeline): readonly Row[] {
	const undone = takenBack(timeline);
	const byVisit = new Map<number, JournalEvent[]>();
	const late = new Map<string, JournalEvent[]>();
	for (const { visit, event } of listed(timeline.entries)) {
		push(byVisit, visit, event);
		if (event.kind === 'late') push(late, event.data.step, event);
	}
	const gaps = new Map<number, AnsweredGap[]>();
	for (const { visit, ...gap } of gapsOf(timeline)) push(gaps, visit, gap);
	const time = new Map<number, Totals>();
	const first = new Map<number, Segment>();
	for (const segment of segmentsOf(timeline)) {
		time.set(segment.visit, plus(time.get(segment.visit) ?? noTime, segment.own));
		if (!first.has(segment.visit)) first.set(segment.visit, segment);
	}
	const shownLate = new Set<string>();
	return [...first.values()].flatMap((segment) => {
		if (!segment.entered) return [];
		const lateHere = shownLate.has(segment.path) ? [] : (late.get(segment.path) ?? []);
		shownLate.add(segment.path);
		return [
			rowOf(
				segment,
				segment.entered,
				byVisit.get(segment.visit) ?? [],
				lateHere,
				gaps.get(segment.visit) ?? [],
				time.get(segment.visit) ?? noTime,
				undone
			)
		];
	});
}

function push<K, V>(lists: Map<K, V[]>, key: K, item: V): void {
	const list = lists.get(key);
	if (list) list.push(item);
	else lists.set(key, [item]);
}

const troubleOf = (frame: Frame | null): TroubleId | null => frame?.trouble ?? null;
const stampOf = ({ seq, at, mono, boot }: JournalEvent): EventStamp => ({ seq, at, mono, boot });
const endings: Readonly<Record<string, Row['end']>> = {
	outcome: 'outcome',
	skipped: 'left out',
	trouble: 'trouble',
	endBegun: 'end visit',
	aborted: 'run',
	completed: 'run'
};

function rowOf(
	segment: Segment,
	entered: EventStamp,
	events: readonly JournalEvent[],
	late: readonly JournalEvent[],
	gaps: readonly AnsweredGap[],
	time: Totals,
	undone: ReadonlySet<number>
): Row {
	const of = <K extends JournalEvent['kind']>(kind: K) =>
		events.filter((event): event is Extract<JournalEvent, { kind: K }> => event.kind === kind);
	const kept = events.filter(({ seq }) => !undone.has(seq));
	const ending = kept.find(({ kind }) => endings[kind] !== undefined);
	return {
		seq: segment.visit,
		path: segment.path,
		stage: segment.stage,
		trouble: troubleOf(segment.frame),
		visit: segment.nth,
		entered,
		ended: ending ? stampOf(ending) : null,
		end: ending ? (endings[ending.kind] ?? null) : null,
		outcome: ending?.kind === 'outcome' ? ending.data.outcome : null,
		reason: ending?.kind === 'skipped' ? ending.data.reason : null,
		earlyMs: ending?.kind === 'outcome' ? (ending.data.earlyMs ?? null) : null,
		time,
		gaps,
		readings: of('reading')
			.filter(({ data }) => data.confirmed)
			.map(({ seq, data }) => {
				const { reading, value, unit, uncertainty, round } = data;
				return { seq, reading, value, unit, uncertainty, round, undone: undone.has(seq) };
			}),
		notes: of('note').map(({ seq, at, data }) => ({ seq, at, text: data.text, sound: data.sound ?? null })),
		attachments: of('attachment').map(({ seq, at, data }) => ({ seq, at, ...data })),
		troubles: of('trouble').map(({ seq, data }) => ({ seq, trouble: data.trouble, undone: undone.has(seq) })),
		late: late.flatMap(({ seq, kind, data }) => (kind === 'late' ? [{ seq, ...data }] : [])),
		confirmed: kept.some(({ kind }) => kind === 'confirmed'),
		undone: undone.has(segment.visit)
	};
}
