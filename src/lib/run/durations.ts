import type { PastRun, RunOutcome, TimedStep, TimedTrouble } from '$lib/timing/port';
import { gapsOf, type Row, rowsOf, segmentsOf } from './rows';
import type { Frame } from './state';
import type { Timeline } from './timeline';

/** Visits of the steps of stages in walking order; those taken back or left out have none. The open one only if `withOpen`. */
export const timedSteps = (rows: readonly Row[], withOpen: boolean): TimedStep[] =>
	rows
		.filter((row) => !row.undone && row.trouble === null && row.end !== 'left out' && (withOpen || row.end !== null))
		.map(({ path, visit, time, end }) => ({
			path,
			visit,
			durationMs: time.elapsedMs,
			...(end === 'outcome' && time.gaps === 0 ? {} : { censored: true })
		}));

/** Troubles in the order called, with the time of their own steps (of troubles called within them not counted). */
export function timedTroubles(timeline: Timeline): TimedTrouble[] {
	const closed = new Set<Frame>();
	const unmeasured = new Set(gapsOf(timeline).map(({ visit }) => visit));
	const times = new Map<Frame, { durationMs: number; whole: boolean }>();
	const segments = segmentsOf(timeline);
	segments.forEach(({ frame, own, visit }, i) => {
		if (!frame) return;
		const before = times.get(frame) ?? { durationMs: 0, whole: true };
		times.set(frame, { durationMs: before.durationMs + own.elapsedMs, whole: before.whole && !unmeasured.has(visit) });
		const next = segments[i + 1];
		if (next && !contains(next.frame, frame)) closed.add(frame);
	});
	const ended = timeline.state.status === 'complete';
	return [...times].map(([frame, { durationMs, whole }]) => ({
		id: frame.trouble,
		path: frame.from,
		durationMs,
		...(whole && (closed.has(frame) || ended) ? {} : { censored: true })
	}));
}

function contains(frames: Frame | null, frame: Frame): boolean {
	for (let at = frames; at; at = at.outer) if (at === frame) return true;
	return false;
}

const outcomes: Readonly<Record<string, RunOutcome>> = { complete: 'complete', aborted: 'aborted' };

/**
 * A run as the forecast's history wants it. Only what was measured is a duration: a visit with a gap, or one that was
 * broken off, is censored with what was measured of it. Null for a run that never began.
 */
export function pastRunOf(timeline: Timeline): PastRun | null {
	const { state } = timeline;
	const rows = rowsOf(timeline);
	const first = rows[0];
	if (!first) return null;
	return {
		id: state.run,
		procedure: state.edition.id,
		operator: state.person,
		startedAtMs: Date.parse(first.entered.at),
		outcome: outcomes[state.status] ?? 'unfinished',
		steps: timedSteps(rows, true),
		troubles: timedTroubles(timeline)
	};
}
