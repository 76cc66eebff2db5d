import type { CodedTarget } from '../coded-edition';
import type { By } from './met';
import type { Reach } from './reach';

/** One move of a path: the state it is made in, and what was answered or called there. */
export interface TracedMove {
	readonly state: number;
	readonly by: By;
	/** The moves within a trouble that was called here and left again. */
	readonly within: readonly TracedMove[];
}

interface Arrow {
	readonly next: number;
	readonly by: By;
	/** Where the move goes through a trouble: its first state, and the exit by which it is left. */
	readonly through: { readonly entry: number; readonly exit: number } | null;
}

/**
 * Paths from a start to a state, breadth first. The shortest path that leaves no trouble again is told where there is
 * one; only a state that no such path leads to is told through troubles that are left, each counted as one move.
 */
export class Trace {
	private readonly direct: (Arrow & { from: number } | undefined)[];
	private readonly through: (Arrow & { from: number } | undefined)[];
	private readonly depth: Int32Array;

	constructor(private readonly reach: Reach) {
		const starts = reach.starts;
		this.depth = new Int32Array(reach.space.count).fill(-1);
		this.direct = this.search(starts, false, this.depth);
		const complete = this.depth.every((depth) => depth >= 0);
		this.through = complete ? [] : this.search(starts, true, this.depth);
	}

	/** Moves to the nearest of these states; empty where one of them is a start. */
	to(states: readonly number[]): { readonly state: number; readonly moves: TracedMove[] } {
		const state = states.reduce((best, one) => (best < 0 || (this.depth[one] ?? 0) < (this.depth[best] ?? 0) ? one : best), -1);
		const moves: TracedMove[] = [];
		const arrows = this.direct[state] || this.reach.starts.includes(state) ? this.direct : this.through;
		const seen = new Set<number>();
		for (let arrow = arrows[state]; arrow && !seen.has(arrow.from); arrow = arrows[arrow.from]) {
			seen.add(arrow.from);
			moves.unshift({ state: arrow.from, by: arrow.by, within: arrow.through ? this.inside(arrow.through.entry, arrow.through.exit, 0) : [] });
		}
		return { state, moves };
	}

	private search(starts: readonly number[], throughTroubles: boolean, depth: Int32Array): (Arrow & { from: number } | undefined)[] {
		const { space, code, moves } = this.reach;
		const arrows: (Arrow & { from: number } | undefined)[] = [];
		const seen = new Uint8Array(space.count);
		const joined = new Set<number>();
		let row = [...starts];
		for (const start of row) seen[start] = 1;
		for (let far = 0; row.length > 0; far++) {
			const next: number[] = [];
			const meet = (from: number, arrow: Arrow) => {
				if (seen[arrow.next] === 1) return;
				seen[arrow.next] = 1;
				arrows[arrow.next] = { ...arrow, from };
				next.push(arrow.next);
			};
			const join = (from: number, parts: number) => {
				if (joined.has(parts)) return;
				joined.add(parts);
				for (const entry of code.entries) {
					const state = space.find(entry, parts);
					if (state >= 0 && space.mode.at(state) !== 0) meet(from, { next: state, by: { kind: 'join' }, through: null });
				}
			};
			for (const state of row) {
				if (depth[state] === -1) depth[state] = far;
				this.arrows(state, throughTroubles, (arrow) => meet(state, arrow));
				join(state, space.parts.at(state));
				moves.outcomes(space.step.at(state), space.parts.at(state), (_, after) => join(state, after));
			}
			row = next;
		}
		return arrows;
	}

	/** Moves from a state to states, in the frame it stands in or into a trouble. */
	private arrows(state: number, throughTroubles: boolean, take: (arrow: Arrow) => void): void {
		const { moves, space, code } = this.reach;
		const step = space.step.at(state);
		const parts = space.parts.at(state);
		const follow = (to: CodedTarget | null, after: number, by: By) => {
			if (to?.kind === 'step') this.arrive(state, to.step, after, by, take);
			else if (to?.kind === 'same' && this.reach.troubleOf(state) < 0) this.arrive(state, step, after, by, take);
			else if (to?.kind === 'trouble') call(to.trouble, after, by);
			else if (to?.kind === 'end' && this.reach.troubleOf(state) < 0) this.arrive(state, step, after, { kind: 'join' }, take);
		};
		const call = (trouble: number, before: number, by: By) => {
			const called = code.troubles[trouble];
			const after = moves.after(before, called?.sets ?? []);
			const to = moves.route(called?.routes ?? [], after);
			if (to?.kind === 'same' || (to?.kind === 'end' && this.reach.troubleOf(state) < 0)) this.arrive(state, step, after, by, take);
			if (to?.kind !== 'step') return;
			const entry = space.find(to.step, after);
			if (entry < 0) return;
			take({ next: entry, by, through: null });
			if (throughTroubles) this.reach.summaries.eachExit(entry, (exit) => this.resume(state, entry, exit, by, take));
		};
		moves.outcomes(step, parts, (outcome, after, to) => follow(to, after, { kind: 'outcome', outcome }));
		moves.skips(step, parts, (to) => follow(to, parts, { kind: 'skip' }));
		for (let trouble = 0; trouble < code.troubles.length; trouble++)
			if (moves.callable(trouble, step, parts)) call(trouble, parts, { kind: 'trouble', trouble });
	}

	private resume(state: number, entry: number, exit: number, by: By, take: (arrow: Arrow) => void): void {
		const { space, summaries, code } = this.reach;
		const to = summaries.exitStep.at(exit);
		if (to >= 0 && code.steps[to]?.trouble !== this.reach.troubleOf(state)) return;
		const next = space.find(to < 0 ? space.step.at(state) : to, summaries.exitParts.at(exit));
		if (next >= 0 && next !== state) take({ next, by, through: { entry, exit } });
	}

	private arrive(state: number, to: number, parts: number, by: By, take: (arrow: Arrow) => void): void {
		const owner = this.reach.code.steps[to]?.trouble ?? -1;
		if (owner >= 0 && owner !== this.reach.troubleOf(state)) return;
		const next = this.reach.space.find(to, parts);
		if (next >= 0 && next !== state) take({ next, by, through: null });
	}

	/** Moves from a trouble's first state to where this exit is taken. */
	private inside(entry: number, exit: number, deep: number): TracedMove[] {
		if (deep > 4) return [];
		const trouble = this.reach.troubleOf(entry);
		const arrows = new Map<number, Arrow & { from: number }>();
		const seen = new Set([entry]);
		for (const state of seen) {
			const out = this.exitsBy(state, exit);
			if (out) {
				const moves: TracedMove[] = [{ state, by: out, within: [] }];
				for (let arrow = arrows.get(state); arrow; arrow = arrows.get(arrow.from))
					moves.unshift({ state: arrow.from, by: arrow.by, within: arrow.through ? this.inside(arrow.through.entry, arrow.through.exit, deep + 1) : [] });
				return moves;
			}
			this.arrows(state, true, (arrow) => {
				const entersTrouble = arrow.through === null && arrow.by.kind === 'trouble';
				if (entersTrouble || seen.has(arrow.next) || this.reach.troubleOf(arrow.next) !== trouble) return;
				seen.add(arrow.next);
				arrows.set(arrow.next, { ...arrow, from: state });
			});
		}
		return [];
	}

	/** By what a state leaves its trouble through this exit directly; null where it does not. */
	private exitsBy(state: number, exit: number): By | null {
		const { moves, space, summaries } = this.reach;
		const step = summaries.exitStep.at(exit);
		let by: By | null = null;
		moves.outcomes(space.step.at(state), space.parts.at(state), (outcome, after, to) => {
			const leaves = to?.kind === 'same' ? step === -1 : to?.kind === 'step' && to.step === step;
			if (leaves && after === summaries.exitParts.at(exit)) by ??= { kind: 'outcome', outcome };
		});
		return by;
	}
}
