import type { CodedTarget } from '../coded-edition';
import { Ints } from './ints';
import type { Reach } from './reach';

/** By what numbers of states or parts are found again that wait for one of them. */
class Waiting {
	private readonly head = new Ints();
	private readonly next = new Ints();
	private readonly state = new Ints();

	add(on: number, state: number): void {
		while (this.head.length <= on) this.head.push(-1);
		this.next.push(this.head.at(on));
		this.head.data[on] = this.state.push(state);
	}

	each(on: number, take: (state: number) => void): void {
		if (on < this.head.length) for (let at = this.head.at(on); at >= 0; at = this.next.at(at)) take(this.state.at(at));
	}
}

/**
 * From which states and parts the safe end can be planned without luck, by the same rules as safe-path.ts: by joining at
 * an entry, or by doing the step (its plain outcome; any where the person chooses), or by leaving it out. Found backwards
 * from where the safe end's condition holds. A trouble's return to its calling step counts only if the plan leads on from
 * every step that can have called it.
 */
export class Plannable {
	private readonly byParts: Uint8Array;
	private readonly byDoing: Uint8Array;
	private readonly onParts = new Waiting();
	private readonly onState = new Waiting();
	private readonly work: number[] = [];
	/** (state, exit) of plans that leave a trouble. */
	private readonly returns: (readonly [number, number])[] = [];
	private readonly entry: Uint8Array;

	/** `cut`: states that count as planned, because something else stands against them already. */
	constructor(
		private readonly reach: Reach,
		cut: Ints
	) {
		const { code, space, valuations } = reach;
		this.entry = Uint8Array.from(code.steps, (step) => (step.entry ? 1 : 0));
		for (let state = 0; state < space.count; state++) this.plan(state);
		this.byParts = new Uint8Array(valuations.count);
		this.byDoing = new Uint8Array(space.count);
		for (let parts = 0; parts < valuations.count; parts++)
			if (code.safe(valuations.digits, parts * valuations.width)) this.markParts(parts);
		for (let i = 0; i < cut.length; i++) this.markState(cut.at(i));
		this.spread();
		this.leaveTroubles();
	}

	/** Whether the safe end can be planned once only these parts are known: nothing is due. */
	fromParts(parts: number): boolean {
		return this.byParts[parts] === 1;
	}

	fromState(state: number): boolean {
		return this.byDoing[state] === 1 || this.fromParts(this.reach.space.parts.at(state));
	}

	/** Notes what a plan through this state waits for. */
	private plan(state: number): void {
		const { moves, space, code } = this.reach;
		const step = space.step.at(state);
		const parts = space.parts.at(state);
		let plain = true;
		moves.skips(step, parts, (to) => this.wait(state, parts, to));
		moves.outcomes(step, parts, (_, after, to) => {
			if (plain || code.steps[step]?.chosen) this.wait(state, after, to);
			plain = false;
		});
	}

	private wait(state: number, parts: number, to: CodedTarget | null): void {
		const { moves, space, code, summaries } = this.reach;
		const trouble = this.reach.troubleOf(state);
		if (to?.kind === 'trouble') {
			const called = code.troubles[to.trouble];
			const after = moves.after(parts, called?.sets ?? []);
			const first = moves.route(called?.routes ?? [], after);
			if (first && first.kind !== 'trouble') this.wait(state, after, first);
			return;
		}
		this.onParts.add(parts, state);
		const step = to?.kind === 'step' ? to.step : to?.kind === 'same' ? (trouble < 0 ? space.step.at(state) : -1) : -2;
		if (step === -2) return;
		const owner = step < 0 ? -2 : (code.steps[step]?.trouble ?? -1);
		const entersCalled = owner >= 0 && owner !== trouble && moves.route(code.troubles[owner]?.routes ?? [], parts)?.kind === 'step';
		if (owner === -1 || owner === trouble || entersCalled) {
			const next = space.find(step, parts);
			if (next >= 0) this.onState.add(next, state);
		} else this.returns.push([state, summaries.exit(step, parts, code.steps.length)]);
	}

	private markParts(parts: number): void {
		if (this.byParts[parts] === 1) return;
		this.byParts[parts] = 1;
		this.work.push(-1 - parts);
	}

	private markState(state: number): void {
		if (this.byDoing[state] === 1) return;
		this.byDoing[state] = 1;
		this.work.push(state);
	}

	private spread(): void {
		const { space } = this.reach;
		for (let item = this.work.pop(); item !== undefined; item = this.work.pop()) {
			if (item < 0) this.onParts.each(-1 - item, (state) => this.markState(state));
			else {
				this.onState.each(item, (state) => this.markState(state));
				if (this.entry[space.step.at(item)] === 1) this.markParts(space.parts.at(item));
			}
		}
	}

	private leaveTroubles(): void {
		const { summaries } = this.reach;
		const resumes = new Map<string, number[] | null>();
		for (let changed = true; changed; ) {
			changed = false;
			for (const [state, exit] of this.returns) {
				if (this.byDoing[state] === 1) continue;
				const key = `${this.reach.troubleOf(state)}|${exit}`;
				if (!resumes.has(key)) resumes.set(key, this.resumed(this.reach.troubleOf(state), exit));
				const states = resumes.get(key);
				const leads = this.fromParts(summaries.exitParts.at(exit)) || (states && states.length > 0 && states.every((next) => this.fromState(next)));
				if (!leads) continue;
				changed = true;
				this.markState(state);
				this.spread();
			}
		}
	}

	/** States in which the walk can stand once this trouble is left by this exit; null where one of them can't be entered. */
	private resumed(trouble: number, exit: number): number[] | null {
		const { space, summaries, code } = this.reach;
		const states = new Set<number>();
		const to = summaries.exitStep.at(exit);
		for (let entry = 0; entry < space.count; entry++) {
			if (code.steps[space.step.at(entry)]?.trouble !== trouble || !summaries.exits(entry).includes(exit)) continue;
			summaries.eachCall(entry, (caller) => states.add(space.find(to < 0 ? space.step.at(caller) : to, summaries.exitParts.at(exit))));
		}
		return states.has(-1) ? null : [...states];
	}
}
