import * as m from '$lib/paraglide/messages';
import type { ParameterSpec, Values } from './parameters';

/** Most slots that a holder is drawn with. */
export const MOST_SLOTS = 8;

const slot: ParameterSpec = {
	kind: 'choice',
	options: {
		empty: ['none', 'no tip'],
		tip: ['its tip', 'holds', 'holds its tip', 'full', 'fresh', 'fresh tip', 'holds tip', 'occupied'],
		spare: ['spare tip'],
		used: ['used tip', 'worn', 'damaged', 'returned'],
		unknown: ['not known'],
		absent: ['not there', 'no slot']
	}
};

/** The carrier's slots in a row with each one's condition; the chosen one, and those that the chamber can't show. */
export const slotsSpec: Readonly<Record<string, ParameterSpec>> = {
	/** How many the holder has; where it is not given, as many as a condition is known of, at least four. */
	count: { kind: 'count', min: 1, max: MOST_SLOTS },
	...Object.fromEntries(Array.from({ length: MOST_SLOTS }, (_, i) => [`slot${i + 1}`, slot])),
	/** The slot that the step is about. */
	chosen: { kind: 'count', min: 0, max: MOST_SLOTS },
	/** How many of them, from the first, can be inspected in the chamber. */
	seen: { kind: 'count', min: 0, max: MOST_SLOTS }
};

export interface SlotShown {
	readonly number: number;
	readonly condition: string;
	readonly words: string;
	readonly chosen: boolean;
	/** Can be looked at in the chamber. */
	readonly seen: boolean;
}

const words: Readonly<Record<string, () => string>> = {
	empty: m.drawing_slot_empty,
	tip: m.drawing_slot_tip,
	spare: m.drawing_slot_spare,
	used: m.drawing_slot_used,
	unknown: m.drawing_slot_unknown
};

/** The slots in order; one whose condition was not given is not known. Slots that this holder lacks are left out. */
export function slotsShown({ numbers, choices }: Values): SlotShown[] {
	const highest = Math.max(0, ...Object.keys(choices).map((name) => Number(name.replace('slot', '')) || 0));
	const count = numbers.count ?? Math.max(4, highest);
	return Array.from({ length: count }, (_, i) => {
		const number = i + 1;
		const condition = choices[`slot${number}`] ?? 'unknown';
		return { number, condition, words: (words[condition] ?? m.drawing_slot_unknown)(), chosen: numbers.chosen === number, seen: number <= (numbers.seen ?? count) };
	}).filter((one) => one.condition !== 'absent');
}

export function slotsAlt(values: Values): string {
	const shown = slotsShown(values);
	const says = shown.map((one) => {
		const said = { number: String(one.number), condition: one.seen ? one.words : m.drawing_and({ first: one.words, second: m.drawing_slot_blind() }) };
		return one.chosen ? m.drawing_slot_says_chosen(said) : m.drawing_slot_says(said);
	});
	return m.drawing_slots_alt({ count: String(shown.length), slots: says.join(' ') });
}
