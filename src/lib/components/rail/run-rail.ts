import { gapsOf, listed, segmentsOf } from '$lib/run/rows';
import type { Timeline } from '$lib/run/timeline';
import type { Named } from '$lib/session/named';
import type { Forecast } from '$lib/timing/port';
import type { RailModel, RailStage, Span, Spread } from './model';

/** The rail of a run: what was walked from its timeline, what is to come from the forecast. Wall-clock scale. */
export function railOf(timeline: Timeline, forecast: Forecast | null, words: Named, nowAtMs: number): RailModel {
	const { state } = timeline;
	const segments = segmentsOf(timeline).filter(({ entered }) => entered !== null);
	const begun = Date.parse(segments[0]?.entered?.at ?? new Date(nowAtMs).toISOString());
	const live = state.status === 'running' || state.status === 'paused' || state.status === 'held';
	const nowMs = (live ? nowAtMs : Date.parse(timeline.last?.at ?? '')) - begun;
	const spans = new Map<string, { startMs: number; endMs: number }>();
	segments.forEach(({ stage, entered }, i) => {
		const startMs = Date.parse(entered?.at ?? '') - begun;
		const next = segments[i + 1]?.entered;
		const endMs = next ? Date.parse(next.at) - begun : nowMs;
		const span = spans.get(stage);
		spans.set(stage, span ? { startMs: span.startMs, endMs: Math.max(span.endMs, endMs) } : { startMs, endMs });
	});
	const at = (left: { p10Ms: number; p50Ms: number; p90Ms: number }): Spread => ({ p10Ms: nowMs + left.p10Ms, p50Ms: nowMs + left.p50Ms, p90Ms: nowMs + left.p90Ms });
	const runningStage = timeline.open.stage;
	const stages = state.edition.stages.map((stage): RailStage => {
		const base = { id: stage.id, name: words.text(stage.title), short: words.text(stage.short), plannedMs: stage.plannedMs };
		const coming = live ? forecast?.stages.find((s) => s.stage === stage.id) : undefined;
		const span = spans.get(stage.id);
		if (live && stage.id === runningStage && span) return { ...base, state: 'running', startMs: span.startMs, ...(coming ? { ends: at(coming.left) } : {}) };
		if (coming && !coming.running) {
			const { beginsIn, left } = coming;
			return { ...base, state: 'to come', begins: at(beginsIn), ends: at({ p10Ms: beginsIn.p10Ms + left.p10Ms, p50Ms: beginsIn.p50Ms + left.p50Ms, p90Ms: beginsIn.p90Ms + left.p90Ms }) };
		}
		if (span) return { ...base, state: 'walked', ...span };
		return { ...base, state: 'left out' };
	});
	const booking = state.booking?.end;
	const latest = live && forecast ? forecast.stages.filter((s) => !s.running && s.latestStartAtMs !== undefined) : [];
	return {
		nowMs,
		live,
		stages,
		bookingEndMs: booking ? Date.parse(booking) - begun : null,
		ends: live && forecast ? at(forecast.run) : null,
		fits: forecast?.fits ?? null,
		latestStarts: returning(latest).map((s) => ({ stage: s.stage, name: words.stageShort(s.stage), atMs: (s.latestStartAtMs ?? 0) - begun })),
		pauses: pausesOf(timeline, begun, nowMs),
		gaps: gapsOf(timeline).flatMap(({ fromSeq, wallMs }) => {
			const from = segments.findLast((segment) => (segment.entered?.seq ?? 0) <= fromSeq)?.entered;
			return from ? [{ fromMs: Date.parse(from.at) - begun, toMs: Date.parse(from.at) - begun + wallMs }] : [];
		})
	};
}

/** The return of the tip counts most: the last stage but one, then the last. */
const returning = <T>(stages: readonly T[]): readonly T[] => stages.slice(-2);

/** From each `paused` to what ended it; one that still lasts, until now. */
function pausesOf(timeline: Timeline, begun: number, nowMs: number): readonly Span[] {
	const spans: { fromMs: number; toMs: number }[] = [];
	let since: number | null = null;
	for (const { event } of listed(timeline.entries)) {
		const atMs = Date.parse(event.at) - begun;
		if (event.kind === 'paused') since = atMs;
		else if (since !== null && ['resumed', 'held', 'undone', 'aborted', 'completed'].includes(event.kind)) {
			spans.push({ fromMs: since, toMs: atMs });
			since = null;
		}
	}
	return since === null ? spans : [...spans, { fromMs: since, toMs: nowMs }];
}
