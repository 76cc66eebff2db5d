import { codedEdition } from '$lib/procedure/coded-edition';
import { holds, type Parts, type Settings } from '$lib/procedure/condition';
import type { Edition, StepPath } from '$lib/procedure/edition';
import { Reach } from '$lib/procedure/verify/reach';

/** What the checker calls possible: every (step, parts) it reached, asked by the walks. */
export class CheckedMap {
	private readonly reach: Reach;
	readonly states: number;
	/** Numbers of the reached states of each step of a stage. */
	private readonly byStep: readonly (readonly number[])[];

	constructor(readonly edition: Edition) {
		this.reach = new Reach(codedEdition(edition), { states: 3_000_000, starts: 100_000 });
		if (!this.reach.all) throw new Error('the checker hit its limit: its map is not whole');
		this.states = this.reach.space.count;
		const lists = new Map<number, number[]>();
		for (let state = 0; state < this.states; state++) {
			const step = this.reach.space.step.at(state);
			if (this.reach.code.steps[step]?.trouble !== -1) continue;
			const list = lists.get(step);
			if (list) list.push(state);
			else lists.set(step, [state]);
		}
		this.byStep = [...lists.values()];
	}

	/** A reached state at some step of a stage: `a` and `b` from 0 up choose step and state. */
	anywhere(a: number, b: number): ReturnType<CheckedMap['state']> {
		const list = this.byStep[a % this.byStep.length] ?? [];
		return this.state(list[b % list.length] ?? 0);
	}

	has(step: StepPath, parts: Parts, settings: Settings): boolean {
		const { code, valuations, space } = this.reach;
		const at = code.stepAt.get(step);
		return at !== undefined && space.find(at, valuations.add(code.coding.encode(parts, settings))) >= 0;
	}

	/** A reached state. */
	state(number: number): { readonly step: StepPath; readonly parts: Parts; readonly settings: Settings } {
		const { code, valuations, space } = this.reach;
		return {
			step: code.steps[space.step.at(number)]?.path ?? '',
			...code.coding.decode(valuations.digits, space.parts.at(number) * valuations.width)
		};
	}

	/** Parts and settings with which a visit may begin. */
	start(number: number): { readonly parts: Parts; readonly settings: Settings } {
		const { code, valuations, startParts } = this.reach;
		return code.coding.decode(valuations.digits, (startParts[number % startParts.length] ?? 0) * valuations.width);
	}

	brokenInvariant(parts: Parts, settings: Settings): string | null {
		const broken = this.edition.invariants.find(
			(invariant) => 'always' in invariant && !holds(invariant.always, parts, settings)
		);
		return broken?.id ?? null;
	}
}
