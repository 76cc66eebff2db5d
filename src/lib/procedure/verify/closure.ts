import type { Ints } from './ints';
import type { Reach } from './reach';

/**
 * Every state from which one of the states in `seeds` can be reached by the procedure's own flow: by answers and by what troubles that
 * an answer called lead back to, never by calling a trouble at will. 1 where it can.
 */
export function canReach(reach: Reach, seeds: readonly Ints[]): Uint8Array {
	const can = new Uint8Array(reach.space.count);
	const waiting: number[] = [];
	const mark = (state: number) => {
		if (can[state] === 1) return;
		can[state] = 1;
		waiting.push(state);
	};
	for (const list of seeds) for (let i = 0; i < list.length; i++) mark(list.at(i));
	for (let state = waiting.pop(); state !== undefined; state = waiting.pop()) {
		reach.edges.each(state, (from, flow) => {
			if (flow) mark(from);
		});
		reach.summaries.eachCall(state, (caller, kind) => {
			if ((kind & 1) === 1) mark(caller);
		});
	}
	return can;
}
