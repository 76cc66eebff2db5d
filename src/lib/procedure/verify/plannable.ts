import type { Ints } from './ints';
import { Waiting } from './plan-links';
import type { Reach } from './reach';

/** A trouble's exit: plans that take it wait until the plan leads on from every state that it can resume. */
interface Return {
	readonly resumed: readonly number[];
	readonly waiting: number[];
	/** How many of `resumed` are known to lead on. */
	passed: number;
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
	private readonly work: number[] = [];
	private readonly returns: Return[] = [];
	private readonly onReturn = new Waiting();
	private readonly entry: Uint8Array;

	/** `cut`: states that count as planned, because something else stands against them already. */
	constructor(
		private readonly reach: Reach,
		cut: Ints
	) {
		const { code, space, valuations } = reach;
		this.entry = Uint8Array.from(code.steps, (step) => (step.entry ? 1 : 0));
		this.byParts = new Uint8Array(valuations.count);
		this.byDoing = new Uint8Array(space.count);
		for (let parts = 0; parts < valuations.count; parts++) if (reach.moves.holds(code.safe, parts)) this.markParts(parts);
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
			if (item < 0) this.reach.plans.onParts.each(-1 - item, (state) => this.markState(state));
			else {
				this.reach.plans.onState.each(item, (state) => this.markState(state));
				if (this.entry[space.step.at(item)] === 1) this.markParts(space.parts.at(item));
			}
			// states are watched by number, parts by number behind all states
			this.onReturn.each(item < 0 ? space.count - 1 - item : item, (at) => this.pass(at));
		}
	}

	private leaveTroubles(): void {
		const { summaries, space } = this.reach;
		const { leaving } = this.reach.plans;
		const wanted = new Map<number, number[]>();
		for (let i = 0; i < leaving.length; i += 2) {
			const state = leaving.at(i);
			const exit = leaving.at(i + 1);
			if (this.byDoing[state] === 1) continue;
			if (this.fromParts(summaries.exitParts.at(exit))) this.markState(state);
			else this.reach.plans.onParts.add(summaries.exitParts.at(exit), state);
			const key = exit * this.reach.code.troubles.length + this.reach.troubleOf(state);
			const states = wanted.get(key);
			if (states) states.push(state);
			else wanted.set(key, [state]);
		}
		if (wanted.size === 0) return;
		const resumed = new Map<number, Set<number>>();
		for (let entry = 0; entry < space.count; entry++) {
			const trouble = this.reach.troubleOf(entry);
			if (trouble < 0) continue;
			summaries.eachExit(entry, (exit) => {
				const key = exit * this.reach.code.troubles.length + trouble;
				if (!wanted.has(key)) return;
				const to = summaries.exitStep.at(exit);
				summaries.eachCall(entry, (caller) => {
					const states = resumed.get(key) ?? new Set<number>();
					states.add(space.find(to < 0 ? space.step.at(caller) : to, summaries.exitParts.at(exit)));
					resumed.set(key, states);
				});
			});
		}
		for (const [key, waiting] of wanted) {
			const states = [...(resumed.get(key) ?? [])];
			if (states.length === 0 || states.includes(-1)) continue;
			this.pass(this.returns.push({ resumed: states, waiting, passed: 0 }) - 1);
		}
		this.spread();
	}

	/** Goes on along the states that a return resumes, up to one from which no plan leads yet, and watches that one. */
	private pass(at: number): void {
		const one = this.returns[at];
		if (!one) return;
		for (let state = one.resumed[one.passed]; state !== undefined; state = one.resumed[++one.passed]) {
			if (this.fromState(state)) continue;
			this.onReturn.add(state, at);
			this.onReturn.add(this.reach.space.count + this.reach.space.parts.at(state), at);
			return;
		}
		for (const state of one.waiting) this.markState(state);
	}
}
