import type { CodedTarget } from '../coded-edition';
import { Ints } from './ints';
import type { Moves } from './moves';
import type { Space } from './space';
import type { Summaries } from './summaries';

/** Lists of what waits for a number, as linked lists. */
export class Waiting {
	private readonly head = new Ints();
	private readonly next = new Ints();
	private readonly waiter = new Ints();

	add(on: number, waiter: number): void {
		this.head.reach(on + 1, -1);
		this.next.push(this.head.at(on));
		this.head.data[on] = this.waiter.push(waiter);
	}

	each(on: number, take: (waiter: number) => void): void {
		if (on < this.head.length) for (let at = this.head.at(on); at >= 0; at = this.next.at(at)) take(this.waiter.at(at));
	}
}

/** What a plan through a state leads to, for finding backwards from where the safe end can be planned (plannable.ts). */
export class PlanLinks {
	/** States by the parts that a plan through them comes to. */
	readonly onParts = new Waiting();
	/** States by the state that a plan through them comes to. */
	readonly onState = new Waiting();
	/** Pairs (state, exit) of plans that leave a trouble. */
	readonly leaving = new Ints();

	constructor(
		private readonly moves: Moves,
		private readonly space: Space,
		private readonly summaries: Summaries
	) {}

	/** Notes an outcome that a plan may count on, once what it leads to has been entered. */
	wait(state: number, parts: number, to: CodedTarget | null): void {
		const { moves, space } = this;
		const { steps, troubles } = moves.code;
		const here = space.step.at(state);
		const trouble = steps[here]?.trouble ?? -1;
		let called = -1;
		let then = parts;
		let target = to;
		if (target?.kind === 'trouble') {
			called = target.trouble;
			then = moves.after(parts, troubles[called]?.sets ?? []);
			target = moves.route(troubles[called]?.routes ?? [], then);
		}
		this.onParts.add(then, state);
		if (target?.kind !== 'step' && target?.kind !== 'same') return;
		const same = target.kind === 'same';
		const step = target.kind === 'step' ? target.step : here;
		const owner = steps[step]?.trouble ?? -1;
		// returned from here: the step called in is unknown; from a trouble just called, it is this one
		if (called < 0 && trouble >= 0 && (same || (owner >= 0 && owner !== trouble))) {
			this.leaving.push(state);
			this.leaving.push(this.summaries.exit(same ? -1 : step, then, steps.length));
			return;
		}
		const next = space.find(step, then);
		if (next >= 0) this.onState.add(next, state);
	}
}
