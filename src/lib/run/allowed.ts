import { holds } from '$lib/procedure/condition';
import type { Hazard, Outcome, ReadingSpec, StageId, Step, Trouble } from '$lib/procedure/edition';
import { readingAsked } from './asked';
import type { Question } from './command';
import { type CommandId, type CommandRow, COMMANDS } from './commands';
import { statedSinceHeld } from './decide/holding';
import { canHappenHere, justCalled } from './decide/troubles';
import { answersNow } from './decide/walking';
import type { RunState } from './state';

/** A command that can be given now, with what it can be given for. */
export interface Allowed {
	readonly id: CommandId;
	readonly row: CommandRow;
	/** For `next` and `answer`: what a person may answer; `next` gives the first. */
	readonly answers?: readonly Outcome[];
	/** For `digits`: the reading asked for now, then those that follow in this step or round. */
	readonly readings?: readonly ReadingSpec[];
	/** For `confirm`: what is read back. */
	readonly hazard?: Hazard;
	/** For `trouble`: those that can happen here first, then the others. */
	readonly troubles?: readonly { readonly trouble: Trouble; readonly here: boolean }[];
	/** For `skip`: the step, and the stage if it begins here. */
	readonly skips?: readonly { readonly what: 'step' | 'stage'; readonly stage: StageId | null }[];
	/** For `yes` and `no`: what was asked. */
	readonly question?: Question;
}

/** What can be said or done now; only that is offered (R3). `asked` is the question that stands open, if any. */
export function allowed(state: RunState, asked: Question | null = null): readonly Allowed[] {
	if (state.status === 'idle') return [];
	return COMMANDS.flatMap((row) => {
		if (!row.states.includes(state.status) && !afterEnd.has(row.id)) return [];
		const more = narrow(row.id, state, asked);
		return more ? [{ id: row.id, row, ...more }] : [];
	});
}

/** Facts that can still be added to a run that has ended. */
const afterEnd: ReadonlySet<CommandId> = new Set<CommandId>(['note', 'late', 'details']);

type More = Omit<Allowed, 'id' | 'row'>;

/** What a command can be given for in this state; null: not offered. */
function narrow(id: CommandId, state: RunState, asked: Question | null): More | null {
	const step = state.edition.steps[state.step];
	const stands = state.due === null && !state.calling;
	if (stands && step) {
		if (id === 'next') return nextOf(state, step);
		if (id === 'answer') return someOf('answers', answersNow(state, step));
		if (id === 'confirm') return step.hazard?.confirm && !state.confirmedHazard ? { hazard: step.hazard } : null;
		if (id === 'digits') return someOf('readings', readingsLeft(state, step));
		if (id === 'skip') return someOf('skips', skipsOf(state, step));
	}
	if (id === 'yes' || id === 'no') return replyOf(id, state, step, asked);
	if (id === 'trouble') return someOf('troubles', troublesOf(state));
	if (id === 'back') return state.undo ? {} : null;
	if (id === 'resume') return statedSinceHeld(state) ? {} : null;
	if (id === 'endVisit') return !state.ending && statedSinceHeld(state) ? {} : null;
	return {};
}

function someOf<K extends keyof More>(name: K, list: NonNullable<More[K]> & readonly unknown[]): More | null {
	return list.length > 0 ? { [name]: list } : null;
}

/** "next" where it ends the step: not while readings are asked for, nor where the answer is the person's own. */
function nextOf(state: RunState, step: Step): More | null {
	const answers = answersNow(state, step);
	const byHand = step.kind === 'do' || step.kind === 'check' || step.kind === 'wait';
	return byHand && answers.length > 0 && readingAsked(state) === null ? { answers } : null;
}

function readingsLeft(state: RunState, step: Step): readonly ReadingSpec[] {
	return readingAsked(state) ? step.readings.filter(({ id }) => !state.readings[id]) : [];
}

function skipsOf(state: RunState, step: Step): NonNullable<Allowed['skips']> {
	const stage = state.edition.stages.find(({ optional, steps }) => optional && steps[0] === step.path);
	const may = (leave: Step['optional']) => leave !== undefined && holds(leave.ifLeftOut, state.parts, state.settings);
	return [
		...(may(step.optional) ? [{ what: 'step' as const, stage: null }] : []),
		...(stage && may(stage.optional) ? [{ what: 'stage' as const, stage: stage.id }] : [])
	];
}

function replyOf(id: 'yes' | 'no', state: RunState, step: Step | undefined, asked: Question | null): More | null {
	if (asked) return { question: asked };
	const same = state.status === 'running' && step ? answersNow(state, step).filter((outcome) => outcome.id === id) : [];
	return someOf('answers', same);
}

function troublesOf(state: RunState): NonNullable<Allowed['troubles']> {
	const callable = state.edition.troubles.filter((trouble) => !justCalled(state, trouble));
	const listed = callable.map((trouble) => ({ trouble, here: canHappenHere(state, trouble) }));
	return [...listed.filter(({ here }) => here), ...listed.filter(({ here }) => !here)];
}
