import type { CodedEdition, CodedStep, CodedTarget } from '../coded-edition';
import { EntryIndex } from '../entry-index';
import { Valuations } from '../valuations';
import { Answers } from './answers';
import { Invariants } from './broken';
import { Edges } from './edges';
import { Ints } from './ints';
import { type By, Meetings, type MetRule } from './met';
import { Moves } from './moves';
import { PlanLinks } from './plan-links';
import { ENDING, type Mode, Space, WALK } from './space';
import { starts } from './starts';
import { Summaries } from './summaries';
import { type TipRules, tipRules } from './tips';

const START: By = { kind: 'start' };
const SKIP: By = { kind: 'skip' };
const JOIN: By = { kind: 'join' };

/**
 * Explores every reachable combination of step and parts: first the walk itself with every outcome, every step left out
 * and every trouble in every state that allows it; then what "end the visit" adds, which may join at any entry whose
 * requirement holds, from any parts met. A state from which something must not happen is not gone on from.
 *
 * Longer than a file should be, because the search's rules hold each other and share one worklist.
 */
export class Reach {
	readonly valuations: Valuations;
	readonly moves: Moves;
	readonly invariants: Invariants;
	readonly space: Space;
	readonly edges = new Edges();
	readonly met = new Meetings();
	readonly summaries = new Summaries();
	/** What the plan of the safe end waits for, noted while exploring. */
	readonly plans: PlanLinks;
	/** States that an end follows from directly. */
	readonly ends = new Ints();
	/** Pairs (state, parts) after which only the safe end is due: it must be plannable from there. */
	readonly due = new Ints();
	/** Pairs (state, parts) of the complete end. */
	readonly completed = new Ints();
	/** States that lead out of their trouble directly. */
	readonly left = new Ints();
	/** By trouble: 1 where it was called. */
	readonly called: Uint8Array;
	readonly starts: readonly number[];
	readonly startParts: readonly number[];
	/** False where a limit was hit: then nothing is proved. */
	all: boolean;
	private explored = 0;
	private mode: Mode = WALK;
	/** Parts that a run can have between two steps, in the order met. */
	private readonly live = new Ints();
	private readonly isLive = new Ints();
	private readonly pending = new Ints();
	/** By parts × troubles: 0 not asked yet, else 1 + number of a resolved call. */
	private readonly calls = new Ints();
	private readonly callParts = new Ints();
	/** The state that a call leads to, once it was entered. */
	private readonly callEntry = new Ints();
	/** By step: the trouble that it belongs to, −1: none. */
	private readonly troubles = new Ints();
	private readonly callTo: (CodedTarget | null)[] = [];
	private readonly troubleBy: readonly By[];
	/** By step: troubles whose steps and stages name it. */
	private readonly callable: readonly (readonly number[])[];
	private readonly outcomeBy: By[] = [];
	private readonly tips: TipRules;
	private readonly answers: Answers;

	constructor(
		readonly code: CodedEdition,
		private readonly limits: { readonly states: number; readonly starts: number; /** Stop at the first thing met. */ readonly first?: boolean }
	) {
		this.valuations = new Valuations(code.coding.width, 4096);
		this.moves = new Moves(code, this.valuations);
		this.invariants = new Invariants(code, this.valuations);
		this.space = new Space(limits.states);
		this.plans = new PlanLinks(this.moves, this.space, this.summaries);
		this.answers = new Answers(code, this.valuations);
		for (const step of code.steps) this.troubles.push(step.trouble);
		this.tips = tipRules(code, this.valuations);
		this.troubleBy = code.troubles.map(({ at }) => ({ kind: 'trouble', trouble: at }));
		this.callable = code.steps.map((step) => code.troubles.flatMap((trouble) => (trouble.where[step.at] === 1 ? [trouble.at] : [])));
		this.called = new Uint8Array(code.troubles.length);
		const begin = starts(code, this.valuations, limits.starts);
		this.all = begin.all;
		this.startParts = begin.parts;
		this.starts = code.first < 0 ? [] : begin.parts.map((parts) => this.enter(code.first, parts, -1, START)).filter((state) => state >= 0);
		this.settle();
		this.mode = ENDING;
		const entries = new EntryIndex(code);
		for (let i = 0, again = 0; (i < this.live.length || again < this.due.length) && !(limits.first === true && this.met.count > 0); ) {
			if (again < this.due.length) {
				// where only the safe end is due, the way may lead through the step of a stage that the walk stands at
				const state = this.due.at(again++);
				const parts = this.due.at(again++);
				if (this.troubleOf(state) < 0 && this.moves.requires(this.space.step.at(state), parts)) this.enter(this.space.step.at(state), parts, -1, JOIN);
			} else {
				const parts = this.live.at(i++);
				entries.each(this.valuations.digits, parts * this.valuations.width, (entry) => this.enter(entry, parts, -1, JOIN));
			}
			this.settle();
		}
	}

	troubleOf(state: number): number {
		return this.troubles.at(this.space.step.at(state));
	}

	private settle(): void {
		while (this.explored < this.space.count || this.pending.length > 0) {
			if (this.limits.first === true && this.met.count > 0) return;
			if (this.pending.length > 0) this.flowBack();
			else this.explore(this.explored++);
		}
	}

	private explore(state: number): void {
		const at = this.space.step.at(state);
		const parts = this.space.parts.at(state);
		const step = this.code.steps[at];
		if (!step) return;
		let offered = false;
		for (let outcome = 0; outcome < step.outcomes.length; outcome++) {
			if (!this.moves.offered(step, outcome, parts)) continue;
			this.take(state, step, outcome, parts, !offered || step.chosen);
			offered = true;
		}
		if (!offered) this.meet('no outcome', state, { kind: 'stand' }, at, '', parts);
		for (const skip of step.skips)
			if (this.moves.holds(skip.holds, parts)) {
				this.follow(state, parts, skip.to, SKIP, true);
				this.plans.wait(state, parts, skip.to);
			}
		for (const trouble of this.callable[at] ?? []) if (this.moves.callable(trouble, at, parts)) this.call(state, parts, trouble, false);
	}

	private take(state: number, step: CodedStep, outcome: number, parts: number, planned: boolean): void {
		const by = (this.outcomeBy[outcome] ??= { kind: 'outcome', outcome });
		const after = this.moves.taken(step, outcome, parts);
		if (after !== parts) {
			const broken = this.invariants.change(parts, after, step.smallMoves);
			const always = broken >= 0 ? broken : this.invariants.state(after);
			if (always >= 0) return this.meet('invariant', state, by, step.at, always, after);
			const lost = this.tips.broken(parts, after, step.at);
			if (lost) return this.meet('tip', state, by, step.at, lost, after);
		}
		const other = this.answers.contradicted(step.at, outcome, parts, after);
		if (other >= 0) return this.meet('answer', state, by, step.at, other, after);
		const to = this.moves.led(step, outcome, after);
		this.follow(state, after, to, by, true);
		if (planned) this.plans.wait(state, after, to);
	}

	/** Goes on from a state with the parts after its outcome. `flow`: by the procedure's own flow, not by a call at will. */
	private follow(state: number, parts: number, to: CodedTarget | null, by: By, flow: boolean): void {
		const step = this.space.step.at(state);
		if (to === null) return this.meet('nowhere', state, by, step, 'none of its ways on holds', parts);
		if (to.kind === 'step') return this.go(state, to.step, parts, by, flow);
		if (to.kind === 'end') return this.end(state, to.end, parts, by, flow);
		if (to.kind === 'trouble') return this.call(state, parts, to.trouble, true);
		if (to.kind === 'nowhere') return this.meet('nowhere', state, by, step, `there is no ${to.wanted}`, parts);
		if (this.troubleOf(state) < 0) return this.go(state, step, parts, by, flow);
		this.left.push(state);
		this.leave(state, this.summaries.exit(-1, parts, this.code.steps.length));
	}

	private go(state: number, to: number, parts: number, by: By, flow: boolean): void {
		const trouble = this.troubles.at(to);
		if (trouble >= 0 && trouble !== this.troubleOf(state)) {
			if (this.troubleOf(state) < 0) return this.meet('nowhere', state, by, this.space.step.at(state), `the trouble of "${this.code.steps[to]?.path}" is not open`, parts);
			if (flow) this.left.push(state);
			return this.leave(state, this.summaries.exit(to, parts, this.code.steps.length));
		}
		const next = this.enter(to, parts, state, by);
		if (next >= 0 && next !== state) this.link(state, next, flow);
	}

	private end(state: number, end: 'complete' | 'safe', parts: number, by: By, flow: boolean): void {
		this.touch(parts);
		if (flow) this.ends.push(state);
		if (this.mode === ENDING || end === 'safe') this.owe(state, parts);
		else {
			this.completed.push(state);
			this.completed.push(parts);
			if (!this.code.complete(this.valuations.digits, parts * this.valuations.width)) this.meet('end', state, by, this.space.step.at(state), '', parts);
		}
	}

	private call(state: number, parts: number, trouble: number, flow: boolean): void {
		const call = this.resolve(parts, trouble);
		const after = this.callParts.at(call);
		const to = this.callTo[call];
		const by = this.troubleBy[trouble] as By;
		this.called[trouble] = 1;
		const broken = this.invariants.state(after);
		if (broken >= 0) return this.meet('invariant', state, by, this.space.step.at(state), broken, after);
		if (to?.kind === 'step' && this.code.steps[to.step]?.trouble === trouble) {
			const known = this.callEntry.at(call);
			const entry = known >= 0 ? known : this.enter(to.step, after, state, by);
			if (entry < 0) return;
			this.callEntry.data[call] = entry;
			this.summaries.call(entry, state, flow ? 2 * trouble + 1 : 2 * trouble);
			for (let at = this.summaries.firstExit(entry); at >= 0; at = this.summaries.nextExit(at)) this.resume(state, this.summaries.exitAt(at), trouble, flow);
		} else if (to?.kind === 'same') this.resume(state, this.summaries.exit(-1, after, this.code.steps.length), trouble, flow);
		else if (to?.kind === 'trouble') this.meet('nowhere', state, by, this.space.step.at(state), 'it leads straight into another trouble; expected a step of its own', after);
		else this.follow(state, after, to ?? null, by, flow);
	}

	/** The number of what calling a trouble with these parts comes to. */
	private resolve(parts: number, trouble: number): number {
		const key = parts * this.code.troubles.length + trouble;
		this.calls.reach(key + 1, 0);
		const known = this.calls.at(key) - 1;
		if (known >= 0) return known;
		const called = this.code.troubles[trouble];
		const after = this.moves.after(parts, called?.sets ?? []);
		this.callEntry.push(-1);
		this.callTo.push(this.moves.route(called?.routes ?? [], after));
		this.calls.data[key] = this.callParts.push(after) + 1;
		return this.callParts.length - 1;
	}

	/** A trouble is left at this state by this exit. */
	private leave(state: number, exit: number): void {
		if (this.summaries.add(state, exit)) {
			this.pending.push(state);
			this.pending.push(exit);
		}
	}

	private flowBack(): void {
		const exit = this.pending.data[--this.pending.length] as number;
		const state = this.pending.data[--this.pending.length] as number;
		const trouble = this.troubleOf(state);
		const { edges, summaries } = this;
		for (let at = edges.first(state); at >= 0; at = edges.after(at)) if (this.troubleOf(edges.fromAt(at)) === trouble) this.leave(edges.fromAt(at), exit);
		// calls that come in meanwhile are put before the first, and find this exit themselves
		for (let at = summaries.firstCall(state); at >= 0; at = summaries.nextCall(at)) {
			const kind = summaries.kindAt(at);
			this.resume(summaries.callerAt(at), exit, kind >> 1, (kind & 1) === 1);
		}
	}

	/** A trouble called at this state has been left by this exit. */
	private resume(state: number, exit: number, trouble: number, flow: boolean): void {
		const step = this.summaries.exitStep.at(exit);
		const parts = this.summaries.exitParts.at(exit);
		this.go(state, step < 0 ? this.space.step.at(state) : step, parts, { kind: 'resume', trouble }, flow);
	}

	private link(from: number, to: number, flow: boolean): void {
		this.edges.add(from, to, flow);
		if (flow && this.troubleOf(from) >= 0 && this.troubleOf(to) < 0) this.left.push(from);
		if (this.troubleOf(from) < 0 || this.troubleOf(from) !== this.troubleOf(to)) return;
		for (let at = this.summaries.firstExit(to); at >= 0; at = this.summaries.nextExit(at)) this.leave(from, this.summaries.exitAt(at));
	}

	/** The state of standing at `step` with these parts, if it may be entered; −1 if not, and what stands against it is met. */
	private enter(step: number, parts: number, from: number, by: By): number {
		const known = this.space.find(step, parts);
		if (known >= 0) return known;
		const broken = this.invariants.state(parts);
		if (broken >= 0) this.meet('invariant', from, by, step, broken, parts);
		if (broken >= 0) return -1;
		this.touch(parts);
		if (!this.moves.requires(step, parts)) {
			if (this.mode === WALK) this.meet('requirement', from, by, step, '', parts);
			else if (from >= 0) this.owe(from, parts);
			return -1;
		}
		const added = this.space.add(step, parts, this.mode);
		if (added < 0) this.all = false;
		return added;
	}

	/** From these parts on, only the shortest safe path leads: it must exist. */
	private owe(state: number, parts: number): void {
		this.due.push(state);
		this.due.push(parts);
	}

	private touch(parts: number): void {
		this.isLive.reach(parts + 1, 0);
		if (this.isLive.at(parts) === 1) return;
		this.isLive.data[parts] = 1;
		this.live.push(parts);
	}

	private meet(rule: MetRule, from: number, by: By, step: number, about: number | string, parts: number): void {
		this.met.add(rule, from, by, step, about, parts, from < 0 ? -1 : this.space.step.at(from));
	}
}
