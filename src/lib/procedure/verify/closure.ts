import type { Ints } from './ints';
import type { Reach } from './reach';

/**
 * From which states the seeds can be reached by the procedure's own flow: by answers and by what troubles that an answer
 * called lead back to, never by calling a trouble at will. Bit n of a state's byte: one of `seeds[n]` can be reached.
 */
export function canReach(reach: Reach, seeds: readonly (readonly Ints[])[]): Uint8Array {
	const can = new Uint8Array(reach.space.count);
	const waiting: number[] = [];
	const mark = (state: number, bits: number) => {
		const now = can[state] as number;
		if ((now | bits) === now) return;
		can[state] = now | bits;
		waiting.push(state);
	};
	for (const [bit, lists] of seeds.entries()) for (const list of lists) for (let i = 0; i < list.length; i++) mark(list.at(i), 1 << bit);
	let bits = 0;
	const byEdge = (from: number, flow: boolean) => {
		if (flow) mark(from, bits);
	};
	const byCall = (caller: number, kind: number) => {
		if ((kind & 1) === 1) mark(caller, bits);
	};
	for (let state = waiting.pop(); state !== undefined; state = waiting.pop()) {
		bits = can[state] as number;
		reach.edges.each(state, byEdge);
		reach.summaries.eachCall(state, byCall);
	}
	return can;
}
