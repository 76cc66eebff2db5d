import { holds } from '$lib/procedure/condition';
import type { Trouble } from '$lib/procedure/edition';
import { brokenEnd } from '../broken';
import type { Command, DecideContext, Decision } from '../command';
import { settle } from '../settle';
import type { RunState } from '../state';
import { begin, type Written, write } from '../writing';
import { statedSinceHeld, unknownCondition } from './holding';
import { ask, done, hold, refuse, settled } from './result';

type Of<Id extends Command['id']> = Extract<Command, { id: Id }>;

/** Whether the procedure expects this trouble where the walk stands. */
export function canHappenHere(state: RunState, trouble: Trouble): boolean {
	const stage = state.edition.steps[state.step]?.stage ?? '';
	const anywhere = trouble.steps.length === 0 && trouble.stages.length === 0;
	return (
		(anywhere || trouble.steps.includes(state.step) || trouble.stages.includes(stage)) &&
		holds(trouble.while, state.parts, state.settings)
	);
}

/** The same trouble was just called in this very step (R9). */
export const justCalled = (state: RunState, trouble: Trouble): boolean =>
	state.frames?.trouble === trouble.id && state.frames.from === state.step;

/** Calls a trouble (R9). While held, its first step is shown at once; answers wait until the parts are stated. */
export function trouble(state: RunState, command: Of<'trouble'>, context: DecideContext): Decision {
	if (command.trouble === undefined) return ask('whichTrouble', null, { step: state.step }, { wants: 'trouble' });
	const called = state.edition.troubles.find(({ id }) => id === command.trouble);
	if (!called) return refuse('noSuchTrouble', { trouble: command.trouble });
	if (justCalled(state, called)) return refuse('sameTrouble', { trouble: called.id });
	if (!canHappenHere(state, called) && !command.elsewhere)
		return ask('troubleElsewhere', { ...command, elsewhere: true }, { trouble: called.id, step: state.step });
	const awake = onAgain(state, context);
	const result = settle(
		write(awake, { kind: 'trouble', data: { trouble: called.id, step: state.step } }, context),
		context
	);
	return result.written ? done(result.written) : hold(awake, result.broken, context);
}

const onAgain = (state: RunState, context: DecideContext): Written =>
	state.status === 'paused' ? write(begin(state), { kind: 'resumed', data: {} }, context) : begin(state);

/** The safe end (R11), asked once. From hold only with the parts stated, since the way depends on them. */
export function endVisit(state: RunState, command: Of<'endVisit'>, context: DecideContext): Decision {
	if (state.ending) return refuse('endingAlready');
	if (!statedSinceHeld(state))
		return ask('stateParts', null, { why: state.held?.why ?? '', about: state.held?.about ?? '' }, { wants: 'parts' });
	if (!command.sure) return ask('endVisit', { ...command, sure: true });
	const resumed =
		state.status === 'running' ? begin(state) : write(begin(state), { kind: 'resumed', data: {} }, context);
	return settled(write(resumed, { kind: 'endBegun', data: { why: command.why ?? '' } }, context), context);
}

/** Ends the run where it stands (R12). */
export function abort(state: RunState, command: Of<'abort'>, context: DecideContext): Decision {
	const wrong = command.parts && unknownCondition(state, command.parts);
	if (wrong) return wrong;
	const safe = brokenEnd(state, 'safe') === null;
	if (!safe && !command.parts && state.statedSeq <= state.movedSeq)
		return ask('stateParts', null, { why: 'abort', about: state.step }, { wants: 'parts' });
	if (!command.sure) return ask('abort', { ...command, sure: true }, { safe: safe ? 1 : 0 });
	const stated = command.parts
		? write(begin(state), { kind: 'partsStated', data: { parts: command.parts, why: command.why } }, context)
		: begin(state);
	return done(write(stated, { kind: 'aborted', data: { why: command.why } }, context));
}
