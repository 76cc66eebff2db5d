import * as m from '$lib/paraglide/messages';
import { commandById } from '$lib/run/commands';
import { createListening, type Listening, type ListeningNeeds } from './listening.svelte';
import { emptyEntry, enter, type NumberEntry, numberToken, valueOf } from './number-entry';
import type { Desk, Field } from './reckoning-desk.svelte';
import { inputLabel } from './reckoning-words';

/** Readings of a sum by voice: the digits that a walk hears, echoed before they count. They go to the field that keys go to. */
export interface SpokenReading {
	readonly listening: Listening;
	/** What was heard so far. */
	readonly entry: NumberEntry;
	/** The number as it was heard, in a question; null until it was sent. */
	readonly echo: string | null;
	/** Words that may be said now. */
	readonly canSay: readonly string[];
	hear(): Promise<void>;
	/** The echo is right: the number is given, and the next open field is asked for. */
	confirm(): void;
	/** The echo is wrong: nothing is given. */
	dismiss(): void;
	close(): void;
}

export interface SpokenReadingNeeds extends Omit<ListeningNeeds, 'onheard'> {
	/** Says the echo aloud, where this device speaks. */
	readonly speak: (text: string) => void;
}

const saidFor = (id: 'digits' | 'yes' | 'no'): readonly string[] => commandById[id].said['en'] ?? [];
const [SEND] = saidFor('digits').slice(-1);

export function createSpokenReading(desk: Desk, { speak, ...needs }: SpokenReadingNeeds): SpokenReading {
	let entry = $state.raw<NumberEntry>(emptyEntry);
	/** The field that the number was begun for: another one that is touched meanwhile does not get it. */
	let name = $state('');
	let echo = $state<string | null>(null);
	const canSay = $derived(echo === null ? saidFor('digits') : [...saidFor('yes'), ...saidFor('no')]);

	const quantity = (of: string): Field | undefined => desk.fields.find((field) => field.name === of && field.input.kind === 'quantity');

	function reset(): void {
		entry = emptyEntry;
		echo = null;
		listening.setVocabulary(canSay);
	}
	function confirm(): void {
		if (echo === null) return;
		desk.activate(name);
		desk.type(name, entry.text);
		desk.key('send');
		reset();
	}
	function send(field: Field): boolean {
		if (valueOf(entry) === null) return false;
		echo = m.question_echo({ reading: inputLabel(name, desk.reckoning.name), value: entry.text.replace('-', '−'), unit: field.unit });
		listening.setVocabulary(canSay);
		speak(echo);
		return true;
	}
	function heard(words: string): boolean {
		const said = words.trim().toLowerCase();
		if (echo !== null) {
			if (saidFor('yes').includes(said)) confirm();
			else if (saidFor('no').includes(said)) reset();
			else return false;
			return true;
		}
		if (entry.text === '') name = desk.active;
		const field = quantity(name);
		if (!field || field.input.kind !== 'quantity') return false;
		if (said === SEND) return send(field);
		const token = numberToken(said);
		if (token === null || (token === '-' && field.input.min >= 0)) return false;
		entry = enter(entry, token, said);
		return true;
	}

	const listening = createListening({ ...needs, onheard: ({ words }) => heard(words) });

	return {
		listening,
		get entry() {
			return entry;
		},
		get echo() {
			return echo;
		},
		get canSay() {
			return canSay;
		},
		async hear() {
			await listening.hear();
			listening.setVocabulary(canSay);
		},
		confirm,
		dismiss: reset,
		close: () => listening.deafen()
	};
}
