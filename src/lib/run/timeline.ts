import type { StageId, StepPath } from '$lib/procedure/edition';
import { clocksAgree, elapsedMs, wallMs } from './clocks';
import type { ForeignEvent, JournalEvent } from './events';
import { emptyState, fold } from './fold';
import { type EventStamp, type Frame, type RunState, visitsOf } from './state';
import { type Gap, stretchTo } from './stretch';
import { noTime, plus, type Totals } from './totals';

/** A list that shares its tail, newest first: one more costs the same however many there are. */
export interface Chain<T> {
	readonly item: T;
	readonly before: Chain<T> | null;
}

/** A stretch of time in one visit of a step. A visit has several if something was taken back and it went on. */
export interface Segment {
	/** Sequence number of the `stepEntered` by which the visit began; −1 before the first. */
	readonly visit: number;
	readonly path: StepPath;
	readonly stage: StageId;
	readonly frame: Frame | null;
	readonly entered: EventStamp | null;
	/** The n-th time that the run came to this step, from 1; entries taken back not counted. */
	readonly nth: number;
	readonly own: Totals;
	/** The visit's time in earlier segments. */
	readonly earlier: Totals;
}

/** What a run's journal says of its time: an incremental fold beside the run's state, O(1) per event. */
export interface Timeline {
	/** The run's state after the same events. */
	readonly state: RunState;
	readonly last: EventStamp | null;
	readonly device: string;
	readonly open: Segment;
	readonly closed: Chain<Segment> | null;
	/** Every event that fits, with the visit it happened in. */
	readonly entries: Chain<{ readonly visit: number; readonly event: JournalEvent }> | null;
	readonly gaps: Chain<Gap & { readonly visit: number }> | null;
	readonly run: Totals;
	/** Without the open segment: timeByStage adds it. */
	readonly closedByStage: Readonly<Record<StageId, Totals>>;
}

const noSegment: Segment = {
	visit: -1,
	path: '',
	stage: '',
	frame: null,
	entered: null,
	nth: 0,
	own: noTime,
	earlier: noTime
};

export const emptyTimeline: Timeline = {
	state: emptyState,
	last: null,
	device: '',
	open: noSegment,
	closed: null,
	entries: null,
	gaps: null,
	run: noTime,
	closedByStage: {}
};

/** The timeline after one more event. `after` may give the run's state after it, where it has been folded already. */
export function foldTimeline(
	timeline: Timeline,
	event: JournalEvent | ForeignEvent,
	after: RunState = fold(timeline.state, event)
): Timeline {
	const timed = withTime(timeline, event as JournalEvent);
	const { seq, at, mono, boot, device } = event;
	const fits = after.contradictions === timeline.state.contradictions && after.foreign === timeline.state.foreign;
	const entries = fits
		? { item: { visit: timed.open.visit, event: event as JournalEvent }, before: timed.entries }
		: timed.entries;
	return { ...timed, ...segmentsAfter(timed, after), state: after, last: { seq, at, mono, boot }, device, entries };
}

export function timelineOf(events: Iterable<JournalEvent | ForeignEvent>): Timeline {
	let timeline = emptyTimeline;
	for (const event of events) timeline = foldTimeline(timeline, event);
	return timeline;
}

function withTime(timeline: Timeline, event: JournalEvent): Timeline {
	const { last, device, state, open, run } = timeline;
	if (!last) return timeline;
	const { totals, gap } = stretchTo(last, device, event, state.status);
	if (totals === noTime) return timeline;
	return {
		...timeline,
		open: { ...open, own: plus(open.own, totals) },
		run: plus(run, totals),
		gaps: gap ? { item: { ...gap, visit: open.visit }, before: timeline.gaps } : timeline.gaps
	};
}

/** Another visit begins, or an earlier one goes on because something was taken back. */
function segmentsAfter({ open, closed, closedByStage }: Timeline, after: RunState): Pick<Timeline, 'open' | 'closed' | 'closedByStage'> {
	const visit = after.entered?.seq ?? -1;
	if (visit === open.visit) return { open, closed, closedByStage };
	const all = open === noSegment ? closed : { item: open, before: closed };
	return {
		open: {
			visit,
			path: after.step,
			stage: stageOf(after),
			frame: after.frames,
			entered: after.entered,
			nth: visitsOf(after, after.step) || 1,
			own: noTime,
			earlier: earlierOf(visit, all)
		},
		closed: all,
		closedByStage: withSegment(closedByStage, open)
	};
}

const withSegment = (byStage: Timeline['closedByStage'], { stage, own }: Segment): Timeline['closedByStage'] =>
	own === noTime ? byStage : { ...byStage, [stage]: plus(byStage[stage] ?? noTime, own) };

/** Time of each stage that the walk was in. */
export const timeByStage = ({ closedByStage, open }: Timeline): Readonly<Record<StageId, Totals>> => withSegment(closedByStage, open);

/** The newest segment of a visit that goes on lies only what was taken back below the top. */
function earlierOf(visit: number, segments: Chain<Segment> | null): Totals {
	for (let at = segments; at && at.item.visit >= visit; at = at.before)
		if (at.item.visit === visit) return plus(at.item.own, at.item.earlier);
	return noTime;
}

/** The stage that the walk is in: for a trouble's step the stage in which the outermost trouble was called. */
export function stageOf(state: Pick<RunState, 'edition' | 'step' | 'frames'>): StageId {
	let from = state.step;
	for (let frame = state.frames; frame; frame = frame.outer) from = frame.from;
	return state.edition.steps[from]?.stage ?? '';
}

/** Time up to a moment: what is on the screen between two events. */
export interface TimeNow {
	readonly step: Totals;
	readonly stage: Totals;
	readonly run: Totals;
	/** The stretch since the last event is not measured now: what each clock says. It is asked about. */
	readonly gap: { readonly fromSeq: number; readonly wallMs: number; readonly monoMs: number | null } | null;
}

/** Elapsed, paused and held up to now. Since the last event only what both clocks agree on is counted. */
export function timeNow(
	{ state, last, open, run, closedByStage }: Timeline,
	now: { readonly at: string; readonly mono: number; readonly boot: string }
): TimeNow {
	const step = plus(open.own, open.earlier);
	const stage = plus(closedByStage[open.stage] ?? noTime, open.own);
	const live = state.status === 'running' || state.status === 'paused' || state.status === 'held';
	if (!last || !live) return { step, stage, run, gap: null };
	if (!clocksAgree(last, now)) {
		const monoMs = last.boot === now.boot ? elapsedMs(last, now) : null;
		return { step, stage, run, gap: { fromSeq: last.seq, wallMs: wallMs(last, now), monoMs } };
	}
	const name = state.status === 'running' ? 'elapsedMs' : state.status === 'paused' ? 'pausedMs' : 'heldMs';
	const since: Totals = { ...noTime, [name]: elapsedMs(last, now) };
	return { step: plus(step, since), stage: plus(stage, since), run: plus(run, since), gap: null };
}
