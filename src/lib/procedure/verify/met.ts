/** What the search can meet that must not be. */
export type MetRule =
	/** A step would be entered with its requirement unmet. */
	| 'requirement'
	/** An invariant over states or changes would be broken. */
	| 'invariant'
	/** The complete end would be reached with its condition unmet. */
	| 'end'
	/** The walk would have nowhere to go. */
	| 'nowhere'
	/** An end would leave a tip or a slot unaccounted for. */
	| 'unaccounted'
	/** A tip would come to another place than the one that it left, or to one that is not empty. */
	| 'tip'
	/** An answer would leave the parts as another answer says they are. */
	| 'answer'
	/** No outcome is offered. */
	| 'no outcome'
	/** The safe end can't be planned. */
	| 'safe end'
	/** No end can be reached by the procedure's own flow. */
	| 'dead end'
	/** A trouble can't be left. */
	| 'no way back';

/** By what the walk came from a state to the one told of. */
export type By =
	| { readonly kind: 'outcome'; readonly outcome: number }
	| { readonly kind: 'skip' }
	| { readonly kind: 'trouble'; readonly trouble: number }
	| { readonly kind: 'resume'; readonly trouble: number }
	| { readonly kind: 'join' }
	| { readonly kind: 'start' }
	| { readonly kind: 'stand' };

export interface Met {
	readonly rule: MetRule;
	readonly by: By;
	/** Step number that the sentence is about: the one entered, or the one stood at. */
	readonly step: number;
	/** What is broken: number of an invariant, or words. */
	readonly about: number | string;
	/** Parts after the move. */
	readonly parts: number;
	/** Every state from which it was met; −1: at the start. */
	readonly from: number[];
}

/** Collects what was met: the same thing once, with all states it was met from. */
export class Meetings {
	private readonly byKey = new Map<string, Met>();

	add(rule: MetRule, from: number, by: By, step: number, about: number | string, parts: number, standing: number): void {
		const detail = by.kind === 'outcome' ? by.outcome : 'trouble' in by ? by.trouble : '';
		const key = `${rule}|${by.kind}|${detail}|${by.kind === 'trouble' || by.kind === 'join' || by.kind === 'resume' ? '' : standing}|${step}|${about}`;
		const known = this.byKey.get(key);
		if (known) known.from.push(from);
		else this.byKey.set(key, { rule, by, step, about, parts, from: [from] });
	}

	get count(): number {
		return this.byKey.size;
	}

	get all(): Met[] {
		return [...this.byKey.values()];
	}
}
