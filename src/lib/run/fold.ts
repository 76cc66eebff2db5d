import { emptyState } from './empty';
import { type ForeignEvent, type JournalEvent, type Kind, KINDS } from './events';
import { type ActionName, actions, type ChartEvent, type GuardName, guards, machine } from './machine';
import type { RunState, RunStatus } from './state';

export { emptyState } from './empty';

/** A transition of the chart, with what its names stand for. */
interface Move {
	readonly guard: (typeof guards)[GuardName] | null;
	readonly actions: readonly (typeof actions)[ActionName][];
	readonly to: RunStatus | null;
}

/**
 * What each state takes, read from the statechart once, in xstate's order: the state's own, then the chart's. Its own `transition`
 * makes an actor and three snapshots for each event, which takes ten times as long as the event's effect; fold.test.ts holds the two together.
 */
const moves = Object.fromEntries(
	Object.entries(machine.states).map(([status, { on }]) => [status, new Map([...KINDS, 'foreign' as const].map((type) => [type, movesOn(on, type)]))])
) as unknown as Readonly<Record<RunStatus, ReadonlyMap<Kind | 'foreign', readonly Move[]>>>;

function movesOn(own: typeof machine.root.on, type: Kind | 'foreign'): readonly Move[] {
	const { on } = machine.root;
	const found = [...(own[type] ?? []), ...(on[type] ?? on['*'] ?? [])];
	return found.map(({ guard, actions: named, target }) => ({
		guard: guard === undefined ? null : guards[guard as GuardName],
		actions: named.map((name) => actions[name as ActionName]),
		to: (target?.[0]?.key as RunStatus | undefined) ?? null
	}));
}

const known: ReadonlySet<string> = new Set(KINDS);
const isKnown = (event: JournalEvent | ForeignEvent): event is JournalEvent => known.has(event.kind);

/**
 * The state after one more event of a sound journal (R1). Costs the same however long the run is. Never throws on content:
 * an unknown kind is counted in `foreign`; an event that cannot follow is told in `contradictions` and changes nothing else.
 */
export function fold(state: RunState, event: JournalEvent | ForeignEvent): RunState {
	const chartEvent: ChartEvent = isKnown(event) ? { type: event.kind, event } : { type: 'foreign', event };
	// there is always one: the chart's own `*` has no guard
	const move = moves[state.status].get(chartEvent.type)!.find(({ guard }) => guard === null || guard(state, chartEvent))!;
	let after = state;
	for (const action of move.actions) after = action(after, chartEvent);
	return { ...after, status: move.to ?? state.status, seq: event.seq };
}

/** The state after all events, in order. */
export const foldAll = (events: Iterable<JournalEvent | ForeignEvent>): RunState => {
	let state = emptyState;
	for (const event of events) state = fold(state, event);
	return state;
};
