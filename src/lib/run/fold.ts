import { transition } from 'xstate';
import { emptyState } from './empty';
import { type ForeignEvent, type JournalEvent, type Kind, KINDS } from './events';
import { type ChartEvent, machine } from './machine';
import type { RunState, RunStatus } from './state';

export { emptyState } from './empty';

const known: ReadonlySet<string> = new Set(KINDS);
const isKnown = (event: JournalEvent | ForeignEvent): event is JournalEvent => known.has(event.kind);

/** One snapshot of the chart per status, resolved once: only the context differs from run to run. */
const standing = Object.fromEntries(
	(['idle', 'running', 'paused', 'held', 'complete', 'aborted'] as const).map((status) => [
		status,
		machine.resolveState({ value: status, context: emptyState })
	])
) as Record<RunStatus, ReturnType<typeof machine.resolveState>>;

/**
 * The state after one more event of a sound journal (R1). Costs the same however long the run is. Never throws on content:
 * an unknown kind is counted in `foreign`; an event that cannot follow is told in `contradictions` and changes nothing else.
 */
export function fold(state: RunState, event: JournalEvent | ForeignEvent): RunState {
	const chartEvent: ChartEvent = isKnown(event) ? { type: event.kind as Kind, event } : { type: 'foreign', event };
	const [after] = transition(machine, { ...standing[state.status], context: state }, chartEvent);
	return { ...after.context, status: after.value as RunStatus, seq: event.seq };
}

/** The state after all events, in order. */
export const foldAll = (events: Iterable<JournalEvent | ForeignEvent>): RunState => {
	let state = emptyState;
	for (const event of events) state = fold(state, event);
	return state;
};
