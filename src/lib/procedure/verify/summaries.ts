import { Ints, Pairs } from './ints';

/**
 * Where troubles lead once they are left, without a stack. An exit is (step returned to, or the calling step; parts
 * then). Each state of a trouble has the exits that can follow from it; they flow backwards along the moves within the
 * trouble to its entry, and from there to every state that called it. So a trouble is explored once for each parts at
 * its entry, however deep troubles nest.
 */
export class Summaries {
	/** By exit: step returned to, −1: the step in which the trouble was called. */
	readonly exitStep = new Ints(64);
	readonly exitParts = new Ints(64);
	private readonly exitIds = new Map<number, number>();
	private readonly has = new Pairs();
	/** Exits of a state, and callers of an entry, as linked lists with their heads by state. */
	private readonly exitHead = new Ints();
	private readonly exitNext = new Ints();
	private readonly exitOf = new Ints();
	private readonly callHead = new Ints();
	private readonly callNext = new Ints();
	private readonly caller = new Ints();
	private readonly callKind = new Ints();

	exit(step: number, parts: number, stepCount: number): number {
		const key = parts * (stepCount + 1) + step + 1;
		const known = this.exitIds.get(key);
		if (known !== undefined) return known;
		const id = this.exitStep.push(step);
		this.exitParts.push(parts);
		this.exitIds.set(key, id);
		return id;
	}

	/** True if this state did not have this exit yet. */
	add(state: number, exit: number): boolean {
		if (!this.has.add(state, exit)) return false;
		this.reserve(this.exitHead, state);
		this.exitNext.push(this.exitHead.at(state));
		this.exitHead.data[state] = this.exitOf.push(exit);
		return true;
	}

	/** Keeps a call of the trouble entered at `entry`; `kind` is the caller's own business. */
	call(entry: number, caller: number, kind: number): void {
		this.reserve(this.callHead, entry);
		this.callNext.push(this.callHead.at(entry));
		this.callKind.push(kind);
		this.callHead.data[entry] = this.caller.push(caller);
	}

	/** The exits known now; later ones come through `eachCall` of whoever adds them. */
	eachExit(state: number, take: (exit: number) => void): void {
		for (let at = this.firstExit(state); at >= 0; at = this.nextExit(at)) take(this.exitOf.at(at));
	}

	/** The same list without a closure: the first place, the next one (−1: no more), and the exit at a place. */
	firstExit(state: number): number {
		return state < this.exitHead.length ? this.exitHead.at(state) : -1;
	}

	nextExit(place: number): number {
		return this.exitNext.at(place);
	}

	exitAt(place: number): number {
		return this.exitOf.at(place);
	}

	firstCall(entry: number): number {
		return entry < this.callHead.length ? this.callHead.at(entry) : -1;
	}

	nextCall(place: number): number {
		return this.callNext.at(place);
	}

	callerAt(place: number): number {
		return this.caller.at(place);
	}

	kindAt(place: number): number {
		return this.callKind.at(place);
	}

	eachCall(entry: number, take: (caller: number, kind: number) => void): void {
		for (let at = this.firstCall(entry); at >= 0; at = this.nextCall(at)) take(this.caller.at(at), this.callKind.at(at));
	}

	private reserve(heads: Ints, state: number): void {
		heads.reach(state + 1, -1);
	}
}
