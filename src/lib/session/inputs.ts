import type { Allowed } from '$lib/run/allowed';
import type { Command } from '$lib/run/command';
import { commandById, type CommandId, COMMANDS } from '$lib/run/commands';
import type { KeyPress } from '$lib/ports/keys';
import { numberToken, type NumberToken } from './number-entry';

/** What an input means in the state the walk is in. */
export type Meant =
	| { readonly command: Command }
	| { readonly open: 'trouble' | 'more' | CommandId | null }
	| { readonly token: NumberToken; readonly raw: string }
	| { readonly send: true }
	| { readonly scan: 'begin' | 'take' }
	/** Of the sheet that stands open: the target with this place, or the next ones. */
	| { readonly place: number }
	| { readonly further: true }
	| null;

export interface Situation {
	readonly allowed: readonly Allowed[];
	/** A question other than a hazard's stands open: Enter and the pedal say yes to it. */
	readonly asking: boolean;
	/** A hazard waits to be confirmed: the pedal confirms it. */
	readonly confirming: boolean;
	/** A number is being entered, and whether it has digits yet. */
	readonly number: { readonly begun: boolean } | null;
	readonly scanning: boolean;
	/** A sheet stands open, and so many of its targets bear a number: "answer one" takes the first. */
	readonly sheet?: { readonly numbered: number };
}

/** Commands that need more than a press: the screen opens what asks for it. */
const opens: ReadonlySet<CommandId> = new Set<CommandId>(['trouble', 'note', 'photo', 'skip', 'late', 'hands', 'booking', 'parts', 'details', 'handOver']);

/** The command without arguments, or what the screen must open for it. */
export const plainly = (id: CommandId): Meant => (opens.has(id) ? { open: id } : { command: { id } as Command });

const can = (situation: Situation, id: CommandId): Allowed | undefined => situation.allowed.find((row) => row.id === id);

/** What a key, pedal or clicker means now. Null: nothing here. */
export function meantByKey({ key, kind }: KeyPress, now: Situation): Meant {
	if (kind === 'pedal hold') return { scan: now.scanning ? 'take' : 'begin' };
	if (now.scanning) return key === 'Escape' ? { scan: 'begin' } : { scan: 'take' };
	if (kind === 'pedal press') return wayOn(now);
	if (now.number) {
		const token = numberToken(key);
		if (token !== null && !(key === 'Backspace' && !now.number.begun)) return { token, raw: key };
		if (key === 'Enter') return now.asking ? { command: { id: 'yes' } } : { send: true };
	}
	if (now.asking) {
		if (['Enter', ' ', 'y', 'PageDown', 'ArrowRight', 'MediaTrackNext'].includes(key)) return { command: { id: 'yes' } };
		if (key === 'n' || key === 'Escape') return { command: { id: 'no' } };
	}
	if (now.confirming && ['Enter', ' ', 'PageDown', 'ArrowRight'].includes(key)) return { command: { id: 'confirm' } };
	const answers = can(now, 'answer')?.answers;
	const chosen = /^[1-9]$/.test(key) ? answers?.[Number(key) - 1] : undefined;
	if (chosen) return { command: { id: 'answer', outcome: chosen.id } };
	const row = COMMANDS.find((candidate) => candidate.keys.includes(key) && can(now, candidate.id) && candidate.id !== 'answer' && candidate.id !== 'digits');
	return row ? plainly(row.id) : null;
}

/** The one thing that the pedal's press and the way on do now. */
export function wayOn(now: Situation): Meant {
	if (now.asking) return { command: { id: 'yes' } };
	if (now.confirming) return { command: { id: 'confirm' } };
	if (now.number) return now.number.begun ? { send: true } : { scan: 'begin' };
	if (can(now, 'resume')) return { command: { id: 'resume' } };
	if (can(now, 'next')) return { command: { id: 'next' } };
	return { scan: 'begin' };
}

/** Words that take something by its place. */
export const PLACES = commandById.answer.said['en'] ?? [];
const FURTHER = commandById.next.said['en'] ?? [];
const CLOSE = commandById.no.said['en'] ?? [];

/** "answer two" takes the second of a sheet that stands open, else of the step's answers. */
function meantByPlace(said: string, now: Situation): Meant | undefined {
	const place = PLACES.indexOf(said);
	if (now.sheet) {
		if (FURTHER.includes(said)) return { further: true };
		if (CLOSE.includes(said)) return { open: null };
		return place < 0 ? undefined : place < now.sheet.numbered ? { place } : null;
	}
	if (place < 0) return undefined;
	const answer = can(now, 'answer')?.answers?.[place];
	return answer ? { command: { id: 'answer', outcome: answer.id } } : null;
}

/** What heard words mean now. Answers of the step go before commands of the same sound. */
export function meantByWords(words: string, now: Situation, language: string, answerWords: (outcome: string) => string): Meant {
	const said = words.trim().toLowerCase();
	if (now.number && !now.sheet) {
		const token = numberToken(said);
		if (token !== null) return { token, raw: said };
		if (said === 'send it') return { send: true };
	}
	const placed = meantByPlace(said, now);
	if (placed !== undefined) return placed;
	const answer = can(now, 'answer')?.answers?.find(({ id }) => answerWords(id).toLowerCase() === said);
	if (answer) return { command: { id: 'answer', outcome: answer.id } };
	if (said === 'gloves clean') return { command: { id: 'hands', are: 'clean' } };
	if (said === 'gloves off') return { command: { id: 'hands', are: 'off' } };
	const row = COMMANDS.find((candidate) => candidate.id !== 'digits' && candidate.said[language]?.some((phrase) => phrase.toLowerCase() === said) && can(now, candidate.id));
	return row ? plainly(row.id) : null;
}

/** All words that may be said now, preferred ones first: the ears' vocabulary and "you can say". */
export function sayable(now: Situation, language: string, answerWords: (outcome: string) => string): readonly string[] {
	const answers = now.sheet ? [] : (can(now, 'answer')?.answers ?? []);
	const places = PLACES.slice(0, now.sheet?.numbered ?? answers.length);
	const ofSheet = now.sheet ? [...FURTHER, ...CLOSE] : [];
	const digits = now.number && !now.sheet;
	const closed = (id: CommandId) => id === 'answer' || (id === 'digits' && !digits) || (id === 'yes' && now.confirming && !now.asking);
	const phrases = now.allowed.flatMap(({ id, row }) => (closed(id) ? [] : (row.said[language] ?? [])));
	return [...new Set([...answers.map(({ id }) => answerWords(id)), ...places, ...ofSheet, ...phrases])];
}
