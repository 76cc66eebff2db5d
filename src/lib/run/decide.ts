import type { Command, DecideContext, Decision } from './command';
import { type CommandId, commandById } from './commands';
import { digits } from './decide/readings';
import { parts, pause, reopen, resume, stop } from './decide/holding';
import {
	attachment,
	booking,
	clockOffset,
	correct,
	details,
	gap,
	handOver,
	hands,
	late,
	message,
	note,
	takePen
} from './decide/record';
import { nothing, refuse, settled } from './decide/result';
import { abort, endVisit, trouble } from './decide/troubles';
import { answer, answersNow, back, confirm, next, skip } from './decide/walking';
import type { RunState } from './state';
import { begin } from './writing';

export type { Command, DecideContext, Decision, Question, Reason } from './command';

/** Two presses or words within this time count once (R6). */
export const DOUBLE_PRESS_MS = 700;

type Family = {
	readonly [Id in Command['id']]: (
		state: RunState,
		command: Extract<Command, { id: Id }>,
		context: DecideContext
	) => Decision;
};

const speaksOnly = (): Decision => nothing;

const families: Family = {
	next,
	answer,
	confirm,
	back,
	skip,
	digits,
	pause,
	resume,
	stop,
	parts,
	reopen,
	trouble,
	endVisit,
	abort,
	note,
	attachment,
	late,
	hands,
	booking,
	details,
	clockOffset,
	gap,
	message,
	correct,
	handOver,
	takePen,
	yes: (state, _, context) => reply(state, 'yes', context),
	no: (state, _, context) => (context.asked ? nothing : reply(state, 'no', context)),
	again: speaksOnly,
	where: speaksOnly,
	time: speaksOnly,
	deaf: speaksOnly,
	ears: speaksOnly,
	photo: speaksOnly
};

/** "yes" does what was asked; where nothing was, it is an answer of the step if it has one of this name. */
function reply(state: RunState, word: 'yes' | 'no', context: DecideContext): Decision {
	const asked = context.asked;
	// a short word is heard by mistake too easily to confirm a hazard with
	if (word === 'yes' && asked?.key === 'confirmHazard' && context.via === 'voice') return { ask: asked };
	if (word === 'yes' && asked)
		return asked.yes ? decide(state, asked.yes, { ...context, asked: null, last: null }) : { ask: asked };
	const step = state.edition.steps[state.step];
	const same = step && answersNow(state, step).find(({ id }) => id === word);
	return same ? decide(state, { id: 'answer', outcome: same.id }, { ...context, last: null }) : refuse('nothingAsked');
}

/** Ends a step, gives or confirms: a second press among these would pass two things at once. */
const waysOn: ReadonlySet<Command['id']> = new Set<Command['id']>([
	'next',
	'yes',
	'answer',
	'digits',
	'confirm',
	'resume'
]);
/** Walking needs the walk to stand; the rest can be said any time. */
const walking: ReadonlySet<Command['id']> = new Set<Command['id']>([
	'next',
	'answer',
	'digits',
	'confirm',
	'skip',
	'trouble',
	'endVisit'
]);
/** Touched while gloves are clean, these say or lift just that. */
const touchable: ReadonlySet<Command['id']> = new Set<Command['id']>(['hands', 'reopen', 'takePen', 'clockOffset']);
const silentlyWriting: ReadonlySet<Command['id']> = new Set<Command['id']>([
	'gap',
	'abort',
	'attachment',
	'message',
	'correct',
	'clockOffset',
	'reopen'
]);
const anyState: ReadonlySet<Command['id']> = new Set<Command['id']>([
	'attachment',
	'message',
	'correct',
	'clockOffset',
	'gap',
	'takePen',
	'details',
	'late',
	'note',
	'reopen'
]);

/**
 * What a command comes to in this state (R3): drafts to write, a question, or a refusal with its reason. Pure: nothing is
 * written here, and time and the press before come in by the context. The same command is asked again with its question's
 * `yes` once that was answered.
 */
export function decide(state: RunState, command: Command, context: DecideContext): Decision {
	if (isDoublePress(command, context)) return refuse('doublePress');
	if (context.via === 'touch' && state.hands === 'clean' && isLive(state) && !touchable.has(command.id))
		return refuse('cleanGloves', {}, { instead: ['hands'] });
	if (!isIn(state, command)) return refuse('notNow', { status: state.status });
	if (writes(command.id) && context.device !== state.pen.device && command.id !== 'takePen')
		return refuse('noPen', { device: state.pen.device }, { instead: ['takePen'] });
	if (walking.has(command.id) && (state.due !== null || state.calling)) return settled(begin(state), context);
	const family = families[command.id] as (state: RunState, command: Command, context: DecideContext) => Decision;
	return family(state, command, context);
}

function isDoublePress({ id }: Command, { last, now, via }: DecideContext): boolean {
	if (!last || via === 'guide' || last.boot !== now.boot) return false;
	const sinceMs = now.mono - last.mono;
	const alike = last.command === id || (waysOn.has(id) && waysOn.has(last.command));
	return alike && sinceMs >= 0 && sinceMs <= DOUBLE_PRESS_MS;
}

const row = (id: Command['id']) => (Object.hasOwn(commandById, id) ? commandById[id as CommandId] : undefined);
const writes = (id: Command['id']): boolean => row(id)?.writes ?? silentlyWriting.has(id);

function isIn({ status }: RunState, { id }: Command): boolean {
	if (status === 'idle') return false;
	if (anyState.has(id)) return true;
	return row(id)?.states.includes(status) ?? isLive({ status });
}

const isLive = ({ status }: Pick<RunState, 'status'>): boolean => status === 'running' || status === 'paused' || status === 'held';
