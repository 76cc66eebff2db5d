import { holds, unmet } from '$lib/procedure/condition';
import type { Outcome, Step } from '$lib/procedure/edition';
import { clocksAgree, elapsedMs } from '../clocks';
import { readingAsked } from '../asked';
import type { Command, DecideContext, Decision } from '../command';
import { leaveOutOf } from '../route';
import { endStep, settle } from '../settle';
import type { RunState } from '../state';
import { undoRestores } from '../undo';
import { begin, type Written, write } from '../writing';
import { ask, done, hold, refuse, settled } from './result';

type Of<Id extends Command['id']> = Extract<Command, { id: Id }>;

/** Answers a person may give by hand now, in the procedure's order. */
export const answersNow = (state: RunState, step: Step): readonly Outcome[] =>
	step.outcomes.filter(
		({ when, offered }) => when === undefined && (!offered || holds(offered, state.parts, state.settings))
	);

/** "next" (R5): the plain outcome, which is the first one offered, where the kind of step allows it. */
export function next(state: RunState, command: Of<'next'>, context: DecideContext): Decision {
	const step = state.edition.steps[state.step];
	if (!step) return refuse('notNow', { status: state.status });
	const asked = readingAsked(state);
	if (asked) return ask('whichReading', null, { step: step.path, reading: asked.id }, { wants: 'reading' });
	const plain = answersNow(state, step)[0];
	if (step.kind === 'reading' || step.kind === 'adjust') {
		const result = settle(begin(state), context);
		if (result.broken) return hold(begin(state), result.broken, context);
		if (result.written.drafts.length > 0) return done(result.written);
		if (step.hazard?.confirm && !state.confirmedHazard) return confirmFirst(step);
		return ask('whichAnswer', null, { step: step.path }, { wants: 'answer' });
	}
	if (step.kind === 'choose' || !plain) return ask('whichAnswer', null, { step: step.path }, { wants: 'answer' });
	return take(state, step, plain, command, context);
}

/** The outcome of a check or a choice, by its id. */
export function answer(state: RunState, command: Of<'answer'>, context: DecideContext): Decision {
	const step = state.edition.steps[state.step];
	const outcome = step?.outcomes.find(({ id }) => id === command.outcome);
	if (!step || !outcome) return refuse('noSuchAnswer', { step: state.step, outcome: command.outcome });
	if (outcome.when !== undefined) return refuse('fromReadings', { outcome: outcome.id }, { instead: ['digits'] });
	const { offered } = outcome;
	if (offered && !holds(offered, state.parts, state.settings))
		return refuse('notOffered', { outcome: outcome.id }, { unmet: unmet(offered, state.parts, state.settings) });
	return take(state, step, outcome, command, context);
}

const confirmFirst = (step: Step): Decision =>
	ask('confirmHazard', { id: 'confirm' }, { step: step.path, signal: step.hazard?.signal ?? '' });

function take(
	state: RunState,
	step: Step,
	outcome: Outcome,
	command: Of<'next' | 'answer'>,
	context: DecideContext
): Decision {
	if (step.hazard?.confirm && !state.confirmedHazard) return confirmFirst(step);
	const wait = step.kind === 'wait' ? waitLeft(state, step, context) : 0;
	if (wait === null && !command.early)
		return ask('waitNotMeasured', { ...command, early: true }, { plannedMs: step.wait?.forMs ?? 0 });
	if (wait !== null && wait > 0 && !command.early)
		return ask('waitEarly', { ...command, early: true }, { leftMs: wait });
	const result = endStep(begin(state), outcome.id, context, wait === null || wait === 0 ? undefined : wait);
	return 'what' in result ? hold(begin(state), result, context) : done(result);
}

/** What is left of a wait in ms (R13); null where how long it has lasted is not measured. */
export function waitLeft(state: RunState, step: Step, { now }: Pick<DecideContext, 'now'>): number | null {
	if (!step.wait || !state.entered) return 0;
	if (!clocksAgree(state.entered, now)) return null;
	return Math.max(0, step.wait.forMs - elapsedMs(state.entered, now));
}

/** A hazard, after its read-back (R6). A reading that was waiting for it then gives its outcome. */
export function confirm(state: RunState, _: Of<'confirm'>, context: DecideContext): Decision {
	const hazard = state.edition.steps[state.step]?.hazard;
	if (!hazard?.confirm || state.confirmedHazard) return refuse('nothingToConfirm');
	const readBack = hazard.what[state.edition.languages[0] ?? 'en'] ?? '';
	return settled(
		write(begin(state), { kind: 'confirmed', data: { step: state.step, signal: hazard.signal, readBack } }, context),
		context
	);
}

/** Takes the newest step of the walk back (R8). */
export function back(state: RunState, _: Of<'back'>, context: DecideContext): Decision {
	const point = state.undo;
	if (!point) return refuse('nothingToUndo');
	const restores = undoRestores(state, point);
	const written: Written = write(begin(state), { kind: 'undone', data: { events: point.events, restores } }, context);
	const told = restores === 'record' ? [{ key: 'heldByRecord', params: { step: point.before.step } }] : [];
	return done({ ...written, told });
}

/** Leaves out the step, or the stage that begins with it, with a reason (R20). */
export function skip(state: RunState, command: Of<'skip'>, context: DecideContext): Decision {
	const { stage } = command;
	const stageHere = state.edition.stages.find(({ optional, steps }) => optional && steps[0] === state.step)?.id;
	const leave = leaveOutOf(state, state.step, stage);
	if (!leave) {
		if (stage === undefined && stageHere !== undefined)
			return ask('whySkip', null, { step: state.step, stage: stageHere }, { wants: 'skip' });
		return refuse('notOptional', { step: state.step });
	}
	if (!holds(leave.ifLeftOut, state.parts, state.settings))
		return refuse(
			'mayNotLeaveOut',
			{ step: state.step },
			{ unmet: unmet(leave.ifLeftOut, state.parts, state.settings) }
		);
	const reason = command.reason?.trim() ?? '';
	if (reason === '')
		return ask('whySkip', null, { step: state.step, ...(stage === undefined ? {} : { stage }) }, { wants: 'reason' });
	const data = { step: state.step, reason, ...(stage === undefined ? {} : { stage }) };
	const written = write(begin(state), { kind: 'skipped', data }, context);
	const result = settle(written, context);
	return result.written ? done(result.written) : hold(begin(state), result.broken, context);
}
