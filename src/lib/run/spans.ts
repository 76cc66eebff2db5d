import type { StageId } from '$lib/procedure/edition';
import { gapsOf, listed, segmentsOf } from './rows';
import type { Timeline } from './timeline';

/** A stretch of the wall clock, ms since the run began. */
export interface Span {
	readonly fromMs: number;
	readonly toMs: number;
}

/** Where a run's stages, pauses and gaps stand on the wall clock's scale, ms since it began. */
export interface Spans {
	/** When it began, epoch ms. */
	readonly begunAtMs: number;
	readonly live: boolean;
	/** Now, or the last event of a run that has ended. */
	readonly nowMs: number;
	/** First entry to last leaving of each stage that was entered. */
	readonly stages: ReadonlyMap<StageId, Span>;
	readonly pauses: readonly Span[];
	/** Where no clock measured. */
	readonly gaps: readonly Span[];
}

export function spansOf(timeline: Timeline, nowAtMs: number): Spans {
	const { status } = timeline.state;
	const segments = segmentsOf(timeline).filter(({ entered }) => entered !== null);
	const begunAtMs = Date.parse(segments[0]?.entered?.at ?? new Date(nowAtMs).toISOString());
	const live = status === 'running' || status === 'paused' || status === 'held';
	const nowMs = (live ? nowAtMs : Date.parse(timeline.last?.at ?? '')) - begunAtMs;
	const stages = new Map<StageId, Span>();
	segments.forEach(({ stage, entered }, i) => {
		const next = segments[i + 1]?.entered;
		const fromMs = Date.parse(entered?.at ?? '') - begunAtMs;
		const toMs = next ? Date.parse(next.at) - begunAtMs : nowMs;
		const span = stages.get(stage);
		stages.set(stage, span ? { fromMs: span.fromMs, toMs: Math.max(span.toMs, toMs) } : { fromMs, toMs });
	});
	const gaps = gapsOf(timeline).flatMap(({ fromSeq, wallMs }) => {
		const from = segments.findLast((segment) => (segment.entered?.seq ?? 0) <= fromSeq)?.entered;
		const fromMs = Date.parse(from?.at ?? '') - begunAtMs;
		return from ? [{ fromMs, toMs: fromMs + wallMs }] : [];
	});
	return { begunAtMs, live, nowMs, stages, pauses: pausesOf(timeline, begunAtMs, nowMs), gaps };
}

/** From each `paused` to what ended it; one that still lasts, until now. */
function pausesOf(timeline: Timeline, begunAtMs: number, nowMs: number): readonly Span[] {
	const spans: Span[] = [];
	let since: number | null = null;
	for (const { event } of listed(timeline.entries)) {
		const atMs = Date.parse(event.at) - begunAtMs;
		if (event.kind === 'paused') since = atMs;
		else if (since !== null && ['resumed', 'held', 'undone', 'aborted', 'completed'].includes(event.kind)) {
			spans.push({ fromMs: since, toMs: atMs });
			since = null;
		}
	}
	return since === null ? spans : [...spans, { fromMs: since, toMs: nowMs }];
}
