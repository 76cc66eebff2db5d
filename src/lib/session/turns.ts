import type { Clock } from '$lib/ports/clock';

/** Lets the parts of a page be drawn one after another, each in a task of its own, so that a press meanwhile is not kept waiting. */
export interface Turns {
	/** Calls back when all that asked before had their turn; returns how to ask no more. */
	ask(then: () => void): () => void;
}

export function createTurns(clock: Pick<Clock, 'after'>): Turns {
	const waiting = new Set<() => void>();
	let due = false;

	function next(): void {
		due = false;
		const [first] = waiting;
		if (!first) return;
		waiting.delete(first);
		arrange();
		first();
	}
	function arrange(): void {
		if (due || waiting.size === 0) return;
		due = true;
		clock.after(0, next);
	}
	return {
		ask(then) {
			// a function of its own, so that one who asks twice has two turns
			const turn = () => then();
			waiting.add(turn);
			arrange();
			return () => void waiting.delete(turn);
		}
	};
}
