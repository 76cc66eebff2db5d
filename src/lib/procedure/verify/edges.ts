import { Ints } from './ints';

/** Moves between states, found by the state they lead to. `chosen`: by an answer or a return, not by calling a trouble at will. */
export class Edges {
	private readonly head = new Ints();
	private readonly next = new Ints();
	private readonly from = new Ints();
	private readonly flow = new Ints();

	get count(): number {
		return this.from.length;
	}

	add(from: number, to: number, flow: boolean): void {
		this.head.reach(to + 1, -1);
		this.next.push(this.head.at(to));
		this.flow.push(flow ? 1 : 0);
		this.head.data[to] = this.from.push(from);
	}

	/** The list of moves to a state, without a closure: the first place, the next one (−1: no more), and the state at a place. */
	first(to: number): number {
		return to < this.head.length ? this.head.at(to) : -1;
	}

	after(place: number): number {
		return this.next.at(place);
	}

	fromAt(place: number): number {
		return this.from.at(place);
	}

	/** Every state from which a move leads to `to`; `flow`: by the procedure's own flow. */
	each(to: number, take: (from: number, flow: boolean) => void): void {
		for (let at = this.first(to); at >= 0; at = this.after(at)) take(this.from.at(at), this.flow.at(at) === 1);
	}
}
