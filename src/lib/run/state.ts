import type { Parts, Settings } from '$lib/procedure/condition';
import type { Edition, StepPath, TroubleId } from '$lib/procedure/edition';
import type { Booking } from './events';

/** IEC 61512 state names, as the project uses them (tests/behaviour/run.md); "stopped" is not used. */
export type RunStatus = 'idle' | 'running' | 'paused' | 'held' | 'complete' | 'aborted';

/**
 * What is true of a run after its last event. A fold of the journal and of nothing else; one more event costs O(1):
 * what grows (history, undo) is a linked list that shares its tail.
 */
export interface RunState {
	readonly status: RunStatus;
	readonly run: string;
	/** Sequence number of the last event; −1 before the genesis. */
	readonly seq: number;
	readonly edition: Edition;
	readonly editionHash: string;
	readonly settings: Settings;
	readonly parts: Parts;
	/** The step the walk stands at. */
	readonly step: StepPath;
	/** The step that must be entered next: set by an outcome until `stepEntered` follows; null while standing. */
	readonly due: StepPath | 'complete' | 'safe end' | null;
	/** Troubles that are open, innermost first: where each was called. */
	readonly frames: Frame | null;
	/** "End the visit" was called: each next step is the first of the shortest safe path. */
	readonly ending: boolean;
	/** Readings of the current visit of the step, confirmed ones by id; rounds of an adjust loop, oldest first. */
	readonly readings: Readonly<Record<string, ReadingTaken>>;
	readonly rounds: readonly Readonly<Record<string, ReadingTaken>>[];
	readonly confirmedHazard: boolean;
	/** How often each step was entered so far (undone entries not counted). */
	readonly visits: Readonly<Record<StepPath, number>>;
	readonly hands: 'clean' | 'off';
	readonly booking: Booking | null;
	readonly person: string;
	readonly supervisor: string | null;
	readonly sample: string;
	readonly project: string;
	/** Device that holds the pen, and the person it was given to but who has not taken it yet. */
	readonly pen: { readonly device: string; readonly givenTo: string | null };
	readonly held: { readonly why: string; readonly about: string } | null;
	readonly clockOffsetMs: number;
	/** What "step back" takes back next, newest first. */
	readonly undo: UndoPoint | null;
	/** Kinds met that this version does not understand: count by kind. */
	readonly foreign: Readonly<Record<string, number>>;
}

export interface Frame {
	readonly trouble: TroubleId;
	/** The step in which it was called: `back: same` returns here. */
	readonly from: StepPath;
	readonly outer: Frame | null;
}

export interface ReadingTaken {
	readonly value: number;
	readonly unit: string;
	readonly uncertainty: number | null;
	readonly seq: number;
}

/** A point to which "step back" returns: everything but identity, seq and the record's own facts is restored from it. */
export interface UndoPoint {
	/** Events that are taken back. */
	readonly events: readonly number[];
	readonly before: RunState;
	/** Behind a final step: the record goes back, the parts are asked. */
	readonly final: boolean;
	readonly next: UndoPoint | null;
}
