import type { JournalEvent } from './events';
import type { RunState, UndoPoint } from './state';

/** Begins a new thing that "step back" takes back: everything from this event on until the next one begins. */
export const undoFrom = (before: RunState, seq: number, moves: boolean, final = false): UndoPoint => ({
	events: [seq],
	before,
	moves,
	final,
	next: before.undo
});

/** Counts an event to what was begun last: it goes back with it. */
export const joinUndo = (undo: UndoPoint | null, seq: number): UndoPoint | null =>
	undo && { ...undo, events: [...undo.events, seq] };

/**
 * The undo point of an outcome that the guide took because a reading had just come in: both go back together, else
 * "step back" would land on a step whose outcome follows at once again.
 */
export function undoWithReading(state: RunState, seq: number, final: boolean): UndoPoint {
	const last = state.undo;
	const follows = last && !last.moves && last.events[last.events.length - 1] === seq - 1;
	return follows ? { ...last, events: [...last.events, seq], moves: true, final } : undoFrom(state, seq, true, final);
}

/** Whether going back here restores the parts: not behind a final step, nor behind a statement of what the parts are. */
export const undoRestores = (state: RunState, point: UndoPoint): 'parts' | 'record' =>
	point.moves && (point.final || state.statedSeq > (point.events[0] ?? -1)) ? 'record' : 'parts';

/** State after `undone`: as before the events it names, but for what is true of the record, the people and the clock. */
export function takeBack(state: RunState, event: Extract<JournalEvent, { kind: 'undone' }>): RunState {
	const point = state.undo;
	if (!point) return state;
	const { before } = point;
	const restoresParts = point.moves && event.data.restores === 'parts';
	return {
		...state,
		parts: restoresParts ? before.parts : state.parts,
		known: restoresParts ? before.known : state.known,
		step: before.step,
		entered: before.entered,
		due: before.due,
		returning: before.returning,
		calling: before.calling,
		frames: before.frames,
		ending: before.ending,
		endingWhy: before.endingWhy,
		readings: before.readings,
		rounds: before.rounds,
		confirmedHazard: before.confirmedHazard,
		visits: before.visits,
		movedSeq: event.seq,
		undo: point.next
	};
}
