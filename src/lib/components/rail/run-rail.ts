import { returnStageOf } from '$lib/run/return-stage';
import { spansOf } from '$lib/run/spans';
import type { Timeline } from '$lib/run/timeline';
import type { Named } from '$lib/session/named';
import type { Forecast } from '$lib/timing/port';
import type { RailModel, RailStage, Spread } from './model';

/** The rail of a run: what was walked from its timeline, what is to come from the forecast. Wall-clock scale. */
export function railOf(timeline: Timeline, forecast: Forecast | null, words: Named, nowAtMs: number): RailModel {
	const { state } = timeline;
	const { begunAtMs, live, nowMs, stages: spans, pauses, gaps } = spansOf(timeline, nowAtMs);
	const at = (left: { p10Ms: number; p50Ms: number; p90Ms: number }): Spread => ({ p10Ms: nowMs + left.p10Ms, p50Ms: nowMs + left.p50Ms, p90Ms: nowMs + left.p90Ms });
	const runningStage = timeline.open.stage;
	const stages = state.edition.stages.map((stage): RailStage => {
		const base = { id: stage.id, name: words.text(stage.title), short: words.text(stage.short), plannedMs: stage.plannedMs };
		const coming = live ? forecast?.stages.find((s) => s.stage === stage.id) : undefined;
		const span = spans.get(stage.id);
		if (live && stage.id === runningStage && span) return { ...base, state: 'running', startMs: span.fromMs, ...(coming ? { ends: at(coming.left) } : {}) };
		if (coming && !coming.running) {
			const { beginsIn, left } = coming;
			return { ...base, state: 'to come', begins: at(beginsIn), ends: at({ p10Ms: beginsIn.p10Ms + left.p10Ms, p50Ms: beginsIn.p50Ms + left.p50Ms, p90Ms: beginsIn.p90Ms + left.p90Ms }) };
		}
		if (span) return { ...base, state: 'walked', startMs: span.fromMs, endMs: span.toMs };
		return { ...base, state: 'left out' };
	});
	const booking = state.booking?.end;
	const latest = live && forecast ? forecast.stages.filter((s) => !s.running && s.latestStartAtMs !== undefined) : [];
	const returning = returnStageOf(state.edition);
	return {
		nowMs,
		live,
		stages,
		bookingEndMs: booking ? Date.parse(booking) - begunAtMs : null,
		ends: live && forecast ? at(forecast.run) : null,
		fits: forecast?.fits ?? null,
		latestStarts: fromReturn(latest, returning).map((s) => ({ stage: s.stage, name: words.stageShort(s.stage), atMs: (s.latestStartAtMs ?? 0) - begunAtMs })),
		pauses,
		gaps
	};
}

/** The return of the tip counts most, then the last stage; where none is to come, the last stage alone. */
function fromReturn<T extends { readonly stage: string }>(stages: readonly T[], returning: string | null): readonly T[] {
	const back = stages.find(({ stage }) => stage === returning);
	const last = stages.at(-1);
	return [back, last].filter((stage, i, both) => stage !== undefined && both.indexOf(stage) === i) as T[];
}
