import type { CodedEdition, CodedRoute, CodedSet, CodedTarget } from '../coded-edition';
import type { Valuations } from '../valuations';

export type Take = (outcome: number, parts: number, to: CodedTarget | null) => void;

/** What can happen at a step for given parts, one step at a time: the meaning of an edition, without any search. */
export class Moves {
	private readonly scratch: Uint8Array;

	constructor(
		readonly code: CodedEdition,
		readonly valuations: Valuations
	) {
		this.scratch = new Uint8Array(code.coding.width);
	}

	/** Every outcome offered at this step: its number, the parts after it, and where its first fitting route leads (null: nowhere). */
	outcomes(step: number, parts: number, take: Take): void {
		const outcomes = this.code.steps[step]?.outcomes ?? [];
		for (let i = 0; i < outcomes.length; i++) {
			const outcome = outcomes[i];
			if (!outcome || (outcome.offered && !outcome.offered(this.valuations.digits, parts * this.valuations.width))) continue;
			const after = this.after(parts, outcome.sets);
			take(i, after, this.route(outcome.routes, after));
		}
	}

	/** Every way to leave this step (or its stage) out. */
	skips(step: number, parts: number, take: (to: CodedTarget) => void): void {
		for (const skip of this.code.steps[step]?.skips ?? []) if (skip.holds(this.valuations.digits, parts * this.valuations.width)) take(skip.to);
	}

	callable(trouble: number, step: number, parts: number): boolean {
		const called = this.code.troubles[trouble];
		return called !== undefined && called.where[step] === 1 && called.holds(this.valuations.digits, parts * this.valuations.width);
	}

	after(parts: number, sets: readonly CodedSet[]): number {
		if (sets.length === 0) return parts;
		const { width, digits } = this.valuations;
		const at = parts * width;
		for (let i = 0; i < width; i++) this.scratch[i] = digits[at + i] as number;
		let changed = false;
		for (const { digit, value } of sets) {
			if (this.scratch[digit] !== value) changed = true;
			this.scratch[digit] = value;
		}
		return changed ? this.valuations.add(this.scratch) : parts;
	}

	route(routes: readonly CodedRoute[], parts: number): CodedTarget | null {
		for (const route of routes) if (!route.when || route.when(this.valuations.digits, parts * this.valuations.width)) return route.to;
		return null;
	}

	requires(step: number, parts: number): boolean {
		return this.code.steps[step]?.require(this.valuations.digits, parts * this.valuations.width) ?? false;
	}
}
