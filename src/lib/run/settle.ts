import { nextOnSafePath } from '$lib/procedure/safe-path';
import type { Edition, Step, StepPath } from '$lib/procedure/edition';
import { troubleOf } from '$lib/procedure/frames';
import { judgeLoop } from './adjust';
import { readingsAllIn } from './asked';
import { brokenAlways, brokenChanges, brokenEnd, brokenRequirement } from './broken';
import type { Broken } from './command';
import type { RunState } from './state';
import { tell, type Trial, type Written, write } from './writing';

/** What led to the end of the walk's motion: it stands again or has ended, or something would be broken by going on. */
export type Settled =
	| { readonly written: Written; readonly broken?: undefined }
	| { readonly broken: Broken; readonly written?: undefined };

/**
 * Goes on until the walk stands: way back, trouble, the next step, the outcome that readings give, the end (R4, R5, R9,
 * R11, R12). Stops at what would be broken without having written it (R7, R10).
 */
export function settle(from: Written, trial: Trial): Settled {
	let written = from;
	for (let guard = 0; guard < 100; guard++) {
		const step = motion(written, trial);
		if (step === null) return { written };
		if ('what' in step) return { broken: step };
		written = step;
	}
	throw new Error(
		`the edition "${from.state.edition.id}" leads around in a circle without a step at "${from.state.step}"`
	);
}

/** The one next thing, or null where the walk stands or has ended. */
function motion(written: Written, trial: Trial): Written | Broken | null {
	const { state } = written;
	if (state.status === 'complete' || state.status === 'aborted' || state.status === 'idle') return null;
	if (state.calling)
		return write(written, { kind: 'trouble', data: { trouble: state.calling, step: state.step } }, trial);
	if (state.due === 'safe end' || (state.ending && state.due !== null)) return towardsSafeEnd(written, trial);
	if (state.returning) return wayBack(written, state.returning.to, trial);
	if (state.due === 'complete')
		return brokenEnd(state, 'complete') ?? write(written, { kind: 'completed', data: {} }, trial);
	if (state.due !== null) return enter(written, state.due, trial);
	return outcomeOfReadings(written, trial);
}

const enter = (written: Written, step: StepPath, trial: Trial): Written | Broken =>
	brokenRequirement(written.state, step) ?? write(written, { kind: 'stepEntered', data: { step } }, trial);

const wayBack = (written: Written, to: StepPath | 'safe end', trial: Trial): Written =>
	write(written, { kind: 'wayBack', data: { trouble: written.state.frames?.trouble ?? '', to } }, trial);

function towardsSafeEnd(written: Written, trial: Trial): Written | Broken {
	const why = written.state.endingWhy ?? written.state.frames?.trouble ?? written.state.step;
	if (written.state.returning?.to === 'safe end') written = wayBack(written, 'safe end', trial);
	const { state } = written;
	if (!brokenEnd(state, 'safe')) return write(written, { kind: 'aborted', data: { why } }, trial);
	if (!state.ending) return write(written, { kind: 'endBegun', data: { why } }, trial);
	const due = state.due === 'safe end' || state.due === 'complete' ? null : state.due;
	const frames = state.returning ? state.returning.frames : state.frames;
	// "time runs short" is called at a step that is not done: the way may lead through it
	const from = due ?? (inStage(state.edition, state.step) ? state.step : null);
	const next = nextOnSafePath(state.edition, { step: from, parts: state.parts, settings: state.settings, frames });
	if (next === null || next === 'safe end') return noSafePath(written, due, trial);
	if (next === due) return state.returning ? wayBack(written, next, trial) : enter(written, next, trial);
	return state.frames ? wayBack(written, next, trial) : enter(written, next, trial);
}

const inStage = (edition: Edition, step: StepPath): boolean => troubleOf(edition, step) === null;

/** No way to the safe end is known from here: the procedure's own flow is followed as long as it leads somewhere. */
function noSafePath(written: Written, due: StepPath | null, trial: Trial): Written | Broken {
	if (due === null) return brokenEnd(written.state, 'safe') as Broken;
	const told = tell(written, { key: 'noSafePath', params: { step: due } });
	return written.state.returning ? wayBack(told, due, trial) : enter(told, due, trial);
}

/** The outcome that follows from the readings, once they are in and the hazard is confirmed; null where none does yet. */
function outcomeOfReadings(written: Written, trial: Trial): Written | Broken | null {
	const { state } = written;
	const step = state.edition.steps[state.step];
	if (!step || state.status !== 'running' || (step.hazard?.confirm && !state.confirmedHazard)) return null;
	const outcome =
		step.kind === 'adjust'
			? (judgeLoop(state)?.outcome ?? null)
			: readingsAllIn(state)
				? judged(state, step)
				: null;
	if (outcome === null) return null;
	const taken = step.outcomes.find(({ when }) => when === outcome) ?? step.outcomes[0];
	return taken ? endStep(written, taken.id, trial) : null;
}

function judged(state: RunState, step: Step): 'in range' | 'out of range' {
	const inRange = step.readings.every(({ id, judged }) => {
		const taken = state.readings[id];
		return !judged || (taken !== undefined && Math.abs(taken.value - judged.target) <= judged.tolerance);
	});
	return inRange ? 'in range' : 'out of range';
}

/** Ends the step the walk stands at; what the outcome would break is found before it is written (R7). */
export function endStep(written: Written, outcome: string, trial: Trial, earlyMs?: number): Written | Broken {
	const { state } = written;
	const data = { step: state.step, outcome, ...(earlyMs === undefined ? {} : { earlyMs }) };
	const after = write(written, { kind: 'outcome', data }, trial);
	const smallMoves = state.edition.steps[state.step]?.smallMoves ?? [];
	const broken = brokenChanges(state, after.state.parts, smallMoves)[0] ?? brokenAlways(state, after.state.parts)[0];
	if (broken) return broken;
	const settled = settle(after, trial);
	return settled.written ?? settled.broken;
}
