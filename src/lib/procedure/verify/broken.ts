import type { CodedEdition } from '../coded-edition';
import type { Test } from '../coding';
import type { Valuations } from '../valuations';
import { Ints } from './ints';

/** Invariants of an edition as questions about valuations; the answer for each valuation is kept. */
export class Invariants {
	private readonly always: { readonly at: number; readonly test: Test }[] = [];
	private readonly changes: { readonly at: number; readonly digit: number; readonly test: Test }[] = [];
	/** By valuation: −2 not asked yet, −1 none broken, else the number of the first invariant broken. */
	private readonly known = new Ints();

	constructor(
		code: CodedEdition,
		private readonly valuations: Valuations
	) {
		for (const [at, invariant] of code.edition.invariants.entries()) {
			if ('always' in invariant) this.always.push({ at, test: code.coding.test(invariant.always) });
			else this.changes.push({ at, digit: code.coding.partDigit(invariant.changes), test: code.coding.test(invariant.onlyWhile) });
		}
	}

	/** Number of the first invariant over states that these parts break; −1: none. */
	state(parts: number): number {
		this.known.reach(parts + 1, -2);
		const kept = this.known.at(parts);
		if (kept !== -2) return kept;
		const broken = this.always.find(({ test }) => !test(this.valuations.digits, parts * this.valuations.width))?.at ?? -1;
		this.known.data[parts] = broken;
		return broken;
	}

	/**
	 * Number of the first invariant over changes that going from `before` to `after` breaks; −1: none. What it asks must
	 * hold before the change, as the run looks at it; a step's small moves are exempt.
	 */
	change(before: number, after: number, smallMoves: readonly number[]): number {
		if (before === after) return -1;
		const { digits, width } = this.valuations;
		for (const { at, digit, test } of this.changes) {
			if (digits[before * width + digit] === digits[after * width + digit] || smallMoves.includes(digit)) continue;
			if (!test(digits, before * width)) return at;
		}
		return -1;
	}
}
