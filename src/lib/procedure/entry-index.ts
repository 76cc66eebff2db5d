import type { CodedEdition } from './coded-edition';
import type { Condition } from './edition';

/**
 * The entries of an edition, found by parts: each stands under the value of one part that its requirement asks for (the
 * part that narrows it most), so that of many entries only the few that parts can allow are asked.
 */
export class EntryIndex {
	/** Entries that ask for no single part. */
	private readonly always: number[] = [];
	private readonly byDigit: { readonly digit: number; readonly byValue: number[][] }[] = [];

	constructor(private readonly code: CodedEdition) {
		for (const entry of code.entries) {
			const require = code.edition.steps[code.steps[entry]?.path ?? '']?.require;
			const narrow = require ? narrowest(code, require) : null;
			if (!narrow) this.always.push(entry);
			else for (const value of narrow.values) this.under(narrow.digit, value).push(entry);
		}
	}

	/** Every entry whose requirement holds for the valuation whose digits begin at `at`. */
	each(digits: Uint8Array, at: number, take: (entry: number) => void): void {
		for (const entry of this.always) if (this.code.steps[entry]?.require(digits, at)) take(entry);
		for (const { digit, byValue } of this.byDigit) {
			const list = byValue[digits[at + digit] as number];
			if (list) for (const entry of list) if (this.code.steps[entry]?.require(digits, at)) take(entry);
		}
	}

	private under(digit: number, value: number): number[] {
		let index = this.byDigit.find((one) => one.digit === digit);
		if (!index) this.byDigit.push((index = { digit, byValue: [] }));
		return (index.byValue[value] ??= []);
	}
}

function narrowest(code: CodedEdition, require: Condition): { readonly digit: number; readonly values: readonly number[] } | null {
	let best: { digit: number; values: number[] } | null = null;
	let share = 1;
	for (const condition of pieces(require)) {
		if (!('part' in condition)) continue;
		const digit = code.coding.partDigit(condition.part);
		if (digit < 0) continue;
		const values = condition.is.map((is) => code.coding.value(digit, is));
		const part = values.length / (code.coding.sizes[digit] ?? 1);
		if (part >= share) continue;
		share = part;
		best = { digit, values };
	}
	return best;
}

const pieces = (condition: Condition): Condition[] => ('all' in condition ? condition.all.flatMap(pieces) : [condition]);
