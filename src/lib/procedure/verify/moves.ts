import type { CodedEdition, CodedOutcome, CodedRoute, CodedSet, CodedStep, CodedTarget } from '../coded-edition';
import type { Test } from '../coding';
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
	outcomes(at: number, parts: number, take: Take): void {
		const step = this.code.steps[at];
		for (let outcome = 0; step && outcome < step.outcomes.length; outcome++) {
			if (!this.offered(step, outcome, parts)) continue;
			const after = this.taken(step, outcome, parts);
			take(outcome, after, this.led(step, outcome, after));
		}
	}

	offered(step: CodedStep, outcome: number, parts: number): boolean {
		const offered = step.outcomes[outcome]?.offered;
		return !offered || this.holds(offered, parts);
	}

	/** The parts after an outcome. */
	taken(step: CodedStep, outcome: number, parts: number): number {
		return this.after(parts, (step.outcomes[outcome] as CodedOutcome).sets);
	}

	/** Where an outcome leads with the parts after it; null: nowhere. */
	led(step: CodedStep, outcome: number, after: number): CodedTarget | null {
		return this.route((step.outcomes[outcome] as CodedOutcome).routes, after);
	}

	/** Every way to leave this step (or its stage) out. */
	skips(step: number, parts: number, take: (to: CodedTarget) => void): void {
		for (const skip of this.code.steps[step]?.skips ?? []) if (this.holds(skip.holds, parts)) take(skip.to);
	}

	holds(test: Test, parts: number): boolean {
		return test(this.valuations.digits, parts * this.valuations.width);
	}

	callable(trouble: number, step: number, parts: number): boolean {
		const called = this.code.troubles[trouble];
		return called !== undefined && called.where[step] === 1 && this.holds(called.holds, parts);
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
