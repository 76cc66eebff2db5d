import type { RunStatus } from './state';

/**
 * The one table of commands. Grammar of the ears, keys, pedal ring, help, "you can say", targets and tests are made
 * from it; what a command does is decided in decide.ts, and only what is allowed now is offered (allowed.ts).
 * Words: English first; a procedure's language or an enrolment may replace them. "next" and "stop" stay.
 */
export type CommandId =
	| 'next' | 'back' | 'again' | 'where' | 'time' | 'yes' | 'no' | 'answer' | 'digits' | 'confirm' | 'pause' | 'resume'
	| 'stop' | 'trouble' | 'note' | 'skip' | 'late' | 'hands' | 'deaf' | 'ears' | 'booking' | 'handOver' | 'endVisit'
	| 'photo' | 'parts' | 'details';

export interface CommandRow {
	readonly id: CommandId;
	/** Words that say it, preferred one first, by language tag. Empty: not by voice. */
	readonly said: Readonly<Record<string, readonly string[]>>;
	/** Keyboard: KeyboardEvent.key values. */
	readonly keys: readonly string[];
	/** `press` and `hold` are the pedal's own; `ring` commands are reached by holding and scanning. */
	readonly pedal: 'press' | 'hold' | 'ring' | 'none';
	/** Where its target stands on the walk's screen. */
	readonly target: 'way on' | 'beside' | 'more' | 'in place' | 'none';
	/** Run states in which it may be allowed; the step and its kind narrow it further. */
	readonly states: readonly RunStatus[];
	/** Asked again before it takes effect. */
	readonly confirm: boolean;
	/** Writes into the journal, so that it needs the pen. */
	readonly writes: boolean;
}

const on = ['running'] as const;
const onOrAway = ['running', 'paused'] as const;
const live = ['running', 'paused', 'held'] as const;

export const COMMANDS: readonly CommandRow[] = [
	{ id: 'next', said: { en: ['next'] }, keys: ['Enter', ' ', 'ArrowRight', 'PageDown', 'MediaTrackNext'], pedal: 'press', target: 'way on', states: on, confirm: false, writes: true },
	{ id: 'back', said: { en: ['step back'] }, keys: ['Backspace', 'ArrowLeft', 'PageUp', 'MediaTrackPrevious'], pedal: 'ring', target: 'beside', states: live, confirm: false, writes: true },
	{ id: 'again', said: { en: ['say again'] }, keys: ['a'], pedal: 'ring', target: 'more', states: live, confirm: false, writes: false },
	{ id: 'where', said: { en: ['where am I'] }, keys: ['w'], pedal: 'ring', target: 'more', states: live, confirm: false, writes: false },
	{ id: 'time', said: { en: ['time left'] }, keys: ['t'], pedal: 'ring', target: 'more', states: live, confirm: false, writes: false },
	{ id: 'yes', said: { en: ['yes'] }, keys: ['y', 'Enter'], pedal: 'press', target: 'in place', states: live, confirm: false, writes: true },
	{ id: 'no', said: { en: ['no', 'negative'] }, keys: ['n', 'Escape'], pedal: 'ring', target: 'in place', states: live, confirm: false, writes: true },
	{ id: 'answer', said: { en: ['answer one', 'answer two', 'answer three', 'answer four', 'answer five', 'answer six'] }, keys: ['1', '2', '3', '4', '5', '6', '7', '8', '9'], pedal: 'ring', target: 'in place', states: on, confirm: false, writes: true },
	{ id: 'digits', said: { en: ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'point', 'minus', 'correct', 'send it'] }, keys: ['0', '1', '2', '3', '4', '5', '6', '7', '8', '9', '.', ',', '-', 'Backspace', 'Enter'], pedal: 'ring', target: 'in place', states: on, confirm: true, writes: true },
	{ id: 'confirm', said: { en: ['I confirm'] }, keys: ['c'], pedal: 'press', target: 'way on', states: on, confirm: false, writes: true },
	{ id: 'pause', said: { en: ['pause the walk'] }, keys: ['p', 'MediaPlayPause'], pedal: 'ring', target: 'beside', states: on, confirm: false, writes: true },
	{ id: 'resume', said: { en: ['resume'] }, keys: ['r', 'Enter', 'MediaPlayPause'], pedal: 'press', target: 'way on', states: ['paused', 'held'], confirm: false, writes: true },
	{ id: 'stop', said: { en: ['stop'] }, keys: ['s'], pedal: 'ring', target: 'more', states: onOrAway, confirm: false, writes: true },
	{ id: 'trouble', said: { en: ['trouble'] }, keys: ['!', 'x'], pedal: 'ring', target: 'beside', states: live, confirm: false, writes: true },
	{ id: 'note', said: { en: ['make a note'] }, keys: ['m'], pedal: 'ring', target: 'more', states: live, confirm: false, writes: true },
	{ id: 'photo', said: { en: ['take a picture'] }, keys: ['f'], pedal: 'ring', target: 'more', states: live, confirm: false, writes: true },
	{ id: 'skip', said: { en: ['skip this step'] }, keys: ['k'], pedal: 'ring', target: 'more', states: on, confirm: true, writes: true },
	{ id: 'late', said: { en: ['done earlier'] }, keys: ['l'], pedal: 'ring', target: 'more', states: live, confirm: true, writes: true },
	{ id: 'hands', said: { en: ['gloves clean', 'gloves off'] }, keys: ['g'], pedal: 'ring', target: 'more', states: live, confirm: false, writes: true },
	{ id: 'deaf', said: { en: ['stop listening'] }, keys: ['d'], pedal: 'ring', target: 'more', states: live, confirm: false, writes: false },
	{ id: 'ears', said: { en: ['listen again'] }, keys: ['e'], pedal: 'ring', target: 'more', states: live, confirm: false, writes: false },
	{ id: 'booking', said: { en: ['booking ends at'] }, keys: ['b'], pedal: 'ring', target: 'more', states: live, confirm: true, writes: true },
	{ id: 'parts', said: { en: ['state the parts'] }, keys: ['o'], pedal: 'ring', target: 'more', states: live, confirm: true, writes: true },
	{ id: 'details', said: { en: [] }, keys: ['i'], pedal: 'ring', target: 'more', states: live, confirm: false, writes: true },
	{ id: 'handOver', said: { en: ['hand over'] }, keys: ['h'], pedal: 'ring', target: 'more', states: live, confirm: true, writes: true },
	{ id: 'endVisit', said: { en: ['end the visit'] }, keys: ['v'], pedal: 'ring', target: 'more', states: live, confirm: true, writes: true }
];

export const commandById: Readonly<Record<CommandId, CommandRow>> = Object.fromEntries(
	COMMANDS.map((row) => [row.id, row])
) as Record<CommandId, CommandRow>;
