import type { Parts, Settings } from '$lib/procedure/condition';
import type { InstrumentUsed } from '$lib/metrology/instrument';
import type { Edition, PartId, StageId, StepPath, TroubleId } from '$lib/procedure/edition';
import type { Booking, Knowledge } from './events';

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
	/** What the guide goes by of the instrument; null in a journal that does not say. */
	readonly instrument: InstrumentUsed | null;
	readonly parts: Parts;
	/** How each part's condition came to be known. */
	readonly known: Readonly<Record<PartId, Knowledge>>;
	/** The step the walk stands at. */
	readonly step: StepPath;
	/** When the walk came to it; null before the first `stepEntered`. A wait counts from here. */
	readonly entered: EventStamp | null;
	/** The step that must be entered next: set by an outcome until `stepEntered` follows; null while standing. `safe end`: whatever the shortest safe path says, or the end if it is reached. */
	readonly due: StepPath | 'complete' | 'safe end' | null;
	/** A trouble's end that an outcome led to, until `wayBack` follows: where it leads and which frames stay open. */
	readonly returning: { readonly to: StepPath | 'safe end'; readonly frames: Frame | null } | null;
	/** A trouble that an outcome led to, until `trouble` follows. */
	readonly calling: TroubleId | null;
	/** Troubles that are open, innermost first: where each was called. */
	readonly frames: Frame | null;
	/** "End the visit" was called: each next step is the first of the shortest safe path. */
	readonly ending: boolean;
	/** Why the visit is being ended; null unless `ending`. */
	readonly endingWhy: string | null;
	/** Readings of the current visit of the step, confirmed ones by id; rounds of an adjust loop, oldest first. */
	readonly readings: Readonly<Record<string, ReadingTaken>>;
	readonly rounds: readonly Readonly<Record<string, ReadingTaken>>[];
	readonly confirmedHazard: boolean;
	/** How often each step was entered so far (undone entries not counted); by stage, so that one more entry copies little. */
	readonly visits: Readonly<Record<StageId, Readonly<Record<StepPath, number>>>>;
	/** What these hands may touch now: as said, else what the step needs. */
	readonly hands: 'clean' | 'off';
	/** What was said of the hands; null: nothing yet in this run, so that the step decides. */
	readonly handsSaid: 'clean' | 'off' | null;
	readonly booking: Booking | null;
	readonly person: string;
	readonly supervisor: string | null;
	readonly sample: string;
	readonly project: string;
	/** Device that holds the pen, and the person it was given to but who has not taken it yet. */
	readonly pen: { readonly device: string; readonly givenTo: string | null };
	readonly held: {
		readonly why: string;
		readonly about: string;
		/** The event that held the run. */ readonly seq: number;
	} | null;
	/** Sequence number of the last `partsStated`; −1: none. A held run goes on only if it is later than `held.seq`. */
	readonly statedSeq: number;
	/** Sequence number of the last event by which the walk moved parts or place; −1: none. */
	readonly movedSeq: number;
	readonly clockOffsetMs: number;
	/** What "step back" takes back next, newest first. */
	readonly undo: UndoPoint | null;
	/** Kinds met that this version does not understand: count by kind. */
	readonly foreign: Readonly<Record<string, number>>;
	/**
	 * Events that are sound by hash but impossible by meaning, newest first. Each is told and left out: it changes nothing
	 * but `seq` and `closed`, and the fold goes on.
	 */
	readonly contradictions: Contradiction | null;
	/** The last event closes the chain: nothing stands behind it. */
	readonly closed: boolean;
}

/** When an event was, with its number. */
export interface EventStamp {
	readonly seq: number;
	readonly at: string;
	readonly mono: number;
	readonly boot: string;
}

/** Why an event cannot follow from the state before it. `key` names a message; `params` fill it. */
export interface Contradiction {
	readonly seq: number;
	readonly kind: string;
	readonly key: ObjectionKey;
	readonly params: Readonly<Record<string, string | number>>;
	/** How many there are up to this one. */
	readonly count: number;
	readonly next: Contradiction | null;
}

/** Message keys of contradictions, with their parameters in brackets. */
export type ObjectionKey =
	/** The run's state does not allow this kind [status]. */
	| 'notInThisState'
	/** Written by a device without the pen [device, pen]. */
	| 'withoutPen'
	/** Names a step that the edition does not have [step]. */
	| 'noSuchStep'
	/** Names another step than the one the walk stands at [step, stands]. */
	| 'elsewhere'
	/** Names an outcome that the step does not have [step, outcome]. */
	| 'noSuchOutcome'
	/** Comes between an outcome and the step it leads to [due]. */
	| 'betweenSteps'
	/** Enters a step that is not due [step, due]. */
	| 'notDue'
	/** Takes back events that are not the newest that can be taken back [events]. */
	| 'notNewest'
	/** Restores parts behind a final step or a statement, where only the record can go back [step]. */
	| 'cannotRestore'
	/** Names a trouble that the edition does not have [trouble]. */
	| 'noSuchTrouble'
	/** A way back without a trouble that leads there [to]. */
	| 'noWayBack'
	/** The step does not ask for this reading [reading]. */
	| 'noSuchReading'
	/** The step has nothing to confirm [step]. */
	| 'nothingToConfirm'
	/** Neither the step nor its stage may be left out [step]. */
	| 'notOptional'
	/** Goes on from hold without the parts having been stated [held]. */
	| 'partsNotStated'
	/** The condition of this end does not hold [end]. */
	| 'endNotReached'
	/** Names a part or condition that the edition does not have [part, condition]. */
	| 'noSuchCondition';

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
	/** The walk moved (outcome, leave-out, trouble, end of the visit): parts and place go back; else readings and confirmations only. */
	readonly moves: boolean;
	/** Behind a final step: the record goes back, the parts are asked. */
	readonly final: boolean;
	readonly next: UndoPoint | null;
}

/** How often a step was entered so far; entries taken back not counted. */
export const visitsOf = ({ edition, visits }: RunState, step: StepPath): number => visits[edition.steps[step]?.stage ?? '']?.[step] ?? 0;
