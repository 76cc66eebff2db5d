import type { InstrumentUsed } from '$lib/metrology/instrument';
import type { Edition, ConditionId, PartId, SettingId, StepPath, TroubleId } from '$lib/procedure/edition';

/**
 * The journal's contract: one run is one journal, a sequence of events, each chained to the one before by its hash.
 * Later versions may add kinds and fields; they may not change the envelope, the hash rule or a meaning.
 * Sentences: tests/behaviour/journal.md. Frozen example: tests/golden/every-kind.journal.jsonl.
 */

/** Envelope version. */
export const ENVELOPE = 1;
/** `prev` of event 0. */
export const GENESIS_PREV = '0'.repeat(64);

export type Via = 'voice' | 'touch' | 'pedal' | 'key' | 'guide' | 'import';

/** What every event carries. `mono` counts milliseconds within one `boot` only; `at` is RFC 3339 with offset and milliseconds. */
export interface Envelope<K extends string = string, D = unknown> {
	readonly v: typeof ENVELOPE;
	/** Random 128-bit id of the run, 32 hex digits. */
	readonly run: string;
	readonly seq: number;
	readonly kind: K;
	readonly data: D;
	readonly at: string;
	readonly mono: number;
	/** Changes when the monotonic clock starts anew (a reload, another device). */
	readonly boot: string;
	/** Acting person, as they call themselves here. */
	readonly by: string;
	/** Supervising person, if any. */
	readonly under?: string;
	readonly device: string;
	readonly via: Via;
	/** Only for voice: the words heard and their calibrated probability. */
	readonly heard?: string;
	readonly confidence?: number;
	/** Hash of event seq−1. */
	readonly prev: string;
	/** SHA-256 hex of the RFC 8785 form of this event without `hash`. */
	readonly hash: string;
}

/** How the condition of a part came to be known. */
export type Knowledge = 'carried over' | 'seen' | 'stated' | 'by step';

export interface StatedParts {
	readonly [part: PartId]: { readonly is: ConditionId; readonly known: Knowledge };
}

export interface Booking {
	readonly start?: string;
	/** RFC 3339. */
	readonly end: string;
}

/** Data of each kind. */
export interface EventData {
	/** Event 0, the genesis. */
	begun: {
		readonly edition: { readonly id: string; readonly version: string; readonly hash: string; readonly body: Edition };
		/** The device's public key as a JWK, where it has one. */
		readonly key: Readonly<Record<string, string>> | null;
		readonly person: string;
		readonly supervisor: string | null;
		readonly sample: string;
		readonly project: string;
		readonly booking: Booking | null;
		readonly settings: Readonly<Record<SettingId, string | number>>;
		/** What the guide goes by of the instrument; absent in journals of older versions: not known. */
		readonly instrument?: InstrumentUsed;
		readonly parts: StatedParts;
		/** Where the walk begins; another step than the edition's first means: in the middle of a visit. */
		readonly at: StepPath;
		/** Head hash of the run whose end these parts were carried over from. */
		readonly after: string | null;
		/** IANA zone of the device's clock, e.g. "Europe/Berlin". */
		readonly zone: string;
		/** True for demo data: invented people, instrument and sample. */
		readonly invented?: boolean;
	};
	/** The walk stands at this step. Follows every move; its time is the step's start. */
	stepEntered: { readonly step: StepPath };
	/** A step's end with its answer. */
	outcome: {
		readonly step: StepPath;
		readonly outcome: string;
		/** Left of a wait that was cut short. */ readonly earlyMs?: number;
	};
	/** Takes events back; never deletes. `parts`: the world went back with it; `record`: behind a final step only the record does. */
	undone: { readonly events: readonly number[]; readonly restores: 'parts' | 'record' };
	/** Away, nothing unsafe. */
	paused: { readonly reason: string };
	/** On again; after `held` the parts were looked at and stated in a `partsStated` just before. */
	resumed: Record<string, never>;
	/** Something is wrong, or "stop" was said. */
	held: {
		readonly why: 'stop' | 'requirement' | 'invariant' | 'rounds' | 'reopened' | 'other';
		readonly about: string;
	};
	/** A number that counts only when confirmed. */
	reading: {
		readonly step: StepPath;
		readonly reading: string;
		readonly value: number;
		readonly unit: string;
		/** Standard uncertainty in the same unit, if given. */
		readonly uncertainty: number | null;
		/** What was said or keyed, before it was read as a number. */
		readonly raw: string;
		readonly confirmed: boolean;
		/** Round of an adjust loop, from 1; 1 elsewhere. */
		readonly round: number;
	};
	/** A decision outside a step's answers. */
	choice:
		| { readonly ask: 'gap'; readonly seq: number; readonly answer: 'working' | 'away' | 'unknown' }
		| { readonly ask: 'leave out'; readonly about: string; readonly answer: 'yes' | 'no' }
		| { readonly ask: 'contradiction'; readonly about: string; readonly answer: string };
	/** A hazard confirmed after its read-back. */
	confirmed: { readonly step: StepPath; readonly signal: string; readonly readBack: string };
	skipped: { readonly step: StepPath; readonly stage?: string; readonly reason: string };
	trouble: { readonly trouble: TroubleId; readonly step: StepPath };
	/** A trouble's end and where it led. */
	wayBack: { readonly trouble: TroubleId; readonly to: StepPath | 'safe end' };
	note: { readonly text: string; /** Hash of a spoken note. */ readonly sound?: string };
	attachment: {
		readonly sha256: string;
		readonly type: string;
		readonly bytes: number;
		readonly name: string;
		readonly step: StepPath | null;
	};
	partsStated: { readonly parts: StatedParts; readonly why: string };
	/** What was done earlier, kept apart from what was stamped. `done`: RFC 3339, as the person says it. */
	late: { readonly step: StepPath; readonly done: string; readonly words: string };
	bookingChanged: { readonly end: string | null; readonly was: string | null };
	penGiven: { readonly to: string };
	penTaken: { readonly from: string; readonly device: string };
	message: { readonly to: string; readonly text: string };
	/** A correction is added, never written over. */
	corrected: {
		readonly event: number;
		readonly field: string;
		readonly was: string;
		readonly is: string;
		readonly why: string;
	};
	/** What these hands may touch now. */
	hands: { readonly are: 'clean' | 'off' };
	/** Who supervises, sample and project, and what the guide goes by of the instrument from here on. */
	details: { readonly supervisor?: string | null; readonly sample?: string; readonly project?: string; readonly instrument?: InstrumentUsed };
	/** Instrument clock minus this device's clock. */
	clockOffset: { readonly offsetMs: number };
	/** The app was closed or the page reloaded: last sign of life, so that only the true gap is "not measured". */
	reopened: {
		readonly lastAt: string;
		readonly lastMono: number;
		readonly lastBoot: string;
		readonly mended: readonly string[];
	};
	/** "End the visit": the shortest safe path begins. */
	endBegun: { readonly why: string };
	aborted: { readonly why: string };
	completed: Record<string, never>;
	/** The chain's end: all events before this one. */
	closed: {
		readonly head: string;
		readonly count: number;
		readonly root: string;
		/** Ed25519, base64url, over what `closingMessage` says (src/lib/record/close.ts). */
		readonly signature: string | null;
		/** The signing key, where it is not the genesis's: the pen came to another device. */
		readonly key?: Readonly<Record<string, string>>;
		/** Signatures of people over the same message. */
		readonly countersigned?: readonly { readonly name: string; readonly key: Readonly<Record<string, string>>; readonly signature: string }[];
	};
}

export type Kind = keyof EventData;
export type JournalEvent = { [K in Kind]: Envelope<K, EventData[K]> }[Kind];
/** A kind that this version does not know: kept, passed on, shown as "not understood by this version". */
export type ForeignEvent = Envelope;
/** What a command proposes, before the journal stamps and chains it. */
export type Draft = { [K in Kind]: { readonly kind: K; readonly data: EventData[K] } }[Kind];
/** Who acts and how; the same for all drafts of one command. */
export interface Hand {
	readonly by: string;
	readonly under?: string;
	readonly device: string;
	readonly via: Via;
	readonly heard?: string;
	readonly confidence?: number;
}

export const KINDS = [
	'begun',
	'stepEntered',
	'outcome',
	'undone',
	'paused',
	'resumed',
	'held',
	'reading',
	'choice',
	'confirmed',
	'skipped',
	'trouble',
	'wayBack',
	'note',
	'attachment',
	'partsStated',
	'late',
	'bookingChanged',
	'penGiven',
	'penTaken',
	'message',
	'corrected',
	'hands',
	'details',
	'clockOffset',
	'reopened',
	'endBegun',
	'aborted',
	'completed',
	'closed'
] as const satisfies readonly Kind[];
