import { holds, type Parts } from '$lib/procedure/condition';
import type { Edition, Outcome, Step, StepPath } from '$lib/procedure/edition';
import { safePath } from '$lib/procedure/safe-path';
import type { PlannedProcedure, PlannedStep, RunNow } from '$lib/timing/port';
import { timedSteps, timedTroubles } from './durations';
import { headingFor, partsAfter, routeOf } from './route';
import { rowsOf } from './rows';
import type { RunState } from './state';
import { stageOf, type Timeline, timeNow } from './timeline';

const planned = ({ path, stage, plannedMs, optional }: Step): PlannedStep => ({
	path,
	stage,
	plannedMs,
	...(optional ? { optional: true } : {})
});

/** A procedure as the forecast wants it: stages and steps in the author's order, troubles left out. */
export const plannedProcedure = (edition: Edition): PlannedProcedure => ({
	id: edition.id,
	stages: edition.stages.map(({ id, optional }) => ({ id, ...(optional ? { optional: true } : {}) })),
	steps: edition.stages.flatMap(({ steps }) =>
		steps.flatMap((path) => (edition.steps[path] ? [planned(edition.steps[path])] : []))
	)
});

/** The outcome on which the plain way goes on: the first that is offered, else the first. */
const plain = (step: Step, parts: Parts, settings: RunState['settings']): Outcome | undefined =>
	step.outcomes.find(({ offered }) => !offered || holds(offered, parts, settings)) ?? step.outcomes[0];

/**
 * The steps of stages that come after the one the walk stands at if all goes plainly: plain outcomes, ways back taken,
 * nothing left out; while the visit is being ended, the shortest safe path. A step met again ends it.
 */
export function stepsAhead(state: RunState): readonly Step[] {
	if (state.status === 'complete' || state.status === 'aborted' || state.status === 'idle') return [];
	if (state.ending) return alongSafePath(state);
	const ahead: Step[] = [];
	const met = new Set<StepPath>();
	let at: RunState = state;
	let step = state.edition.steps[state.due === null ? state.step : state.due];
	let standing = state.due === null;
	while (step) {
		if (met.has(`${step.path} ${depth(at)}`)) break;
		met.add(`${step.path} ${depth(at)}`);
		if (!standing && !step.stage.startsWith('trouble:')) ahead.push(step);
		standing = false;
		const outcome = plain(step, at.parts, at.settings);
		if (!outcome) break;
		const parts = partsAfter(at.parts, outcome.set);
		at = { ...at, step: step.path, parts };
		const { due, returning, calling } = headingFor(at, routeOf(outcome.go, parts, at.settings));
		if (calling !== null || due === null) break;
		at = { ...at, frames: returning ? returning.frames : at.frames };
		step = state.edition.steps[due];
	}
	return ahead;
}

function depth({ frames }: RunState): number {
	let count = 0;
	for (let at = frames; at; at = at.outer) count++;
	return count;
}

function alongSafePath(state: RunState): readonly Step[] {
	const { edition, parts, settings, frames } = state;
	const due = state.due === null ? state.step : edition.steps[state.due] ? state.due : null;
	const path = safePath(edition, { step: due, parts, settings, frames })?.steps ?? [];
	return path.flatMap(({ step }) => (step !== state.step && edition.steps[step] ? [edition.steps[step]] : []));
}

/** The run as the forecast wants it, at a moment of this device's clocks. */
export function runNow(
	timeline: Timeline,
	now: { readonly at: string; readonly mono: number; readonly boot: string }
): RunNow {
	const { state, open } = timeline;
	const end = state.booking?.end;
	const live = state.status === 'running' || state.status === 'paused' || state.status === 'held';
	return {
		operator: state.person,
		nowAtMs: Date.parse(now.at),
		done: timedSteps(rowsOf(timeline), false),
		...(live && state.due === null
			? {
					running: {
						path: state.step,
						visit: open.nth,
						elapsedMs: timeNow(timeline, now).step.elapsedMs,
						stage: stageOf(state)
					}
				}
			: {}),
		toCome: stepsAhead(state).map(planned),
		troubles: timedTroubles(timeline),
		...(end === undefined ? {} : { bookingEndAtMs: Date.parse(end) })
	};
}
