import type { CodedEdition } from '../coded-edition';
import { NONE } from '../coding';
import type { Part } from '../edition';
import type { Valuations } from '../valuations';

/** Which part is the tip on the probe, and which are the slots. */
export interface TipParts {
	readonly tip: number;
	/** The tip part's value for an empty gripper. */
	readonly none: number;
	readonly slots: readonly {
		readonly id: string;
		readonly digit: number;
		readonly empty: number;
		/** The slot's value when it holds its tip. */
		readonly full: number;
		/** The tip part's value for the tip of this slot. */
		readonly ofSlot: number;
	}[];
}

export interface TipRules {
	/** What is wrong with a step that changes the parts so; null: nothing, or the edition has no slots. */
	broken(before: number, after: number, step: number): string | null;
}

const slotName = /slot-?([0-9a-z]+)$/;

/**
 * Finds tip and slots by the shipped procedures' convention: slots are parts whose ids end in `slot-N` (or `slotN`) with
 * the conditions `empty`, one for holding the tip, and perhaps the part's `unknown`; the tip is the part whose
 * conditions end in the names of slots, with `none` for an empty gripper. Null where an edition has none of this; then
 * only its own invariants speak of tips.
 */
export function tipParts(code: CodedEdition): TipParts | null {
	const { parts } = code.edition;
	const slots = parts.filter((part) => slotName.test(part.id) && part.conditions.some(({ id }) => id === 'empty'));
	const names = new Map(slots.map((part) => [slotName.exec(part.id)?.[1] ?? '', part]));
	const ofSlot = (part: Part) => part.conditions.filter(({ id }) => names.has(slotName.exec(id)?.[1] ?? ''));
	const tip = parts.find((part) => !slots.includes(part) && part.conditions.some(({ id }) => id === 'none') && ofSlot(part).length > 0);
	if (!tip) return null;
	const tipDigit = code.coding.partDigit(tip.id);
	return {
		tip: tipDigit,
		none: code.coding.value(tipDigit, 'none'),
		slots: ofSlot(tip).map((condition) => {
			const part = names.get(slotName.exec(condition.id)?.[1] ?? '') as Part;
			const digit = code.coding.partDigit(part.id);
			const full = part.conditions.find(({ id }) => id !== 'empty' && id !== part.unknown)?.id ?? '';
			return { id: part.id, digit, empty: code.coding.value(digit, 'empty'), full: code.coding.value(digit, full), ofSlot: code.coding.value(tipDigit, condition.id) };
		})
	};
}

/** The rule of the trade that a tip returns to the slot it left, and only if that slot is empty; and that it is in one place. */
export function tipRules(code: CodedEdition, valuations: Valuations): TipRules {
	const parts = tipParts(code);
	if (!parts) return { broken: () => null };
	const { tip, none, slots } = parts;
	// a step of a trouble may find a tip lost; one that asks which tip is on the probe may find that there is none
	const moving = Uint8Array.from(code.steps, (step) => (step.trouble < 0 && !step.outcomes.some(({ sets }) => sets.some(({ digit, value }) => digit === tip && value !== none)) ? 1 : 0));
	return {
		broken(before, after, step) {
			const acts = moving[step] === 1;
			const { digits, width } = valuations;
			const was = digits[before * width + tip] ?? NONE;
			const is = digits[after * width + tip] ?? NONE;
			for (const slot of slots) {
				const held = digits[before * width + slot.digit];
				const holds = digits[after * width + slot.digit];
				const returned = was !== none && was !== is && holds === slot.full && held !== slot.full;
				if (returned && was !== slot.ofSlot) return `a tip that did not come from ${slot.id} is put into it`;
				if (returned && held !== slot.empty) return `a tip is put into ${slot.id}, which is not known to be empty`;
				if (was === slot.ofSlot && is === none && held === slot.full) return `a tip is put into ${slot.id}, which holds one`;
				if (acts && was === slot.ofSlot && is === none && holds === slot.empty) return `the tip of ${slot.id} leaves the probe and is nowhere`;
				const twice = is === slot.ofSlot && holds === slot.full;
				if (twice && !(was === slot.ofSlot && held === slot.full)) return `the tip of ${slot.id} is on the probe and in its slot at once`;
				if (was === none && is === slot.ofSlot && held === slot.empty && holds === slot.empty) return `a tip is taken out of ${slot.id}, which is empty`;
			}
			return null;
		}
	};
}
