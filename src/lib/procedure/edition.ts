/**
 * A compiled edition: what a procedure file becomes once it has been read, its fragments unfolded and its targets
 * resolved. The run engine, the checker, the forecast and the screens know this form only; YAML stays with the desk.
 * It is plain JSON, so that its hash (SHA-256 of the RFC 8785 form) names it for ever.
 */

/** Language tag (BCP 47) → text. The edition's first language is always present. */
export type Localised<T = string> = Readonly<Record<string, T>>;

export type PartId = string;
export type ConditionId = string;
/** Unique by path: `stage/step`, or `stage/fragment-use/step`; trouble steps `trouble:id/step`. */
export type StepPath = string;
export type StageId = string;
export type TroubleId = string;
export type SettingId = string;

export interface Edition {
	readonly format: 1;
	readonly id: string;
	readonly version: string;
	readonly languages: readonly string[];
	readonly title: Localised;
	readonly summary: Localised;
	readonly parts: readonly Part[];
	readonly settings: readonly Setting[];
	readonly stages: readonly Stage[];
	/** Every step by path, trouble steps included. */
	readonly steps: Readonly<Record<StepPath, Step>>;
	readonly invariants: readonly Invariant[];
	readonly troubles: readonly Trouble[];
	readonly ends: Ends;
	/** Where a complete visit begins. */
	readonly first: StepPath;
}

export interface Part {
	readonly id: PartId;
	readonly name: Localised;
	readonly conditions: readonly { readonly id: ConditionId; readonly name: Localised }[];
	/**
	 * Conditions that a run may begin from; what the last run left is proposed, what is not known is asked. A run begins from
	 * any combination of the parts' starts that breaks no invariant over a state.
	 */
	readonly start: readonly ConditionId[];
	/** Conditions that can hurt someone or something: a step that sets one must carry a confirmed hazard. */
	readonly dangerous: readonly ConditionId[];
	/** The condition that stands for "not known", where this part has one. */
	readonly unknown?: ConditionId;
}

/** A number or a choice that belongs to the instrument or the holder, fixed when a run begins. */
export type Setting =
	| {
			readonly id: SettingId;
			readonly name: Localised;
			readonly kind: 'number';
			/** UCUM-like unit as shown, e.g. "°", "µm", "min". */
			readonly unit: string;
			readonly min: number;
			readonly max: number;
			readonly default: number;
	  }
	| {
			readonly id: SettingId;
			readonly name: Localised;
			readonly kind: 'choice';
			readonly options: readonly { readonly id: string; readonly name: Localised }[];
			readonly default: string;
	  };

/** A condition over parts and choice settings. Integer-coded by the checker; read by people through `conditionWords`. */
export type Condition =
	| { readonly part: PartId; readonly is: readonly ConditionId[] }
	| { readonly setting: SettingId; readonly is: readonly string[] }
	| { readonly all: readonly Condition[] }
	| { readonly any: readonly Condition[] }
	| { readonly not: Condition };

export interface Stage {
	readonly id: StageId;
	readonly title: Localised;
	/** Short name for the rail. */
	readonly short: Localised;
	/** Planned duration, the sum the author gave; steps may carry their own share. */
	readonly plannedMs: number;
	readonly steps: readonly StepPath[];
	/** Present on a stage that may be left out: what must hold if it is. */
	readonly optional?: { readonly ifLeftOut: Condition; readonly leadsTo: Target };
}

export type StepKind = 'do' | 'check' | 'reading' | 'choose' | 'wait' | 'adjust';

export interface Step {
	readonly path: StepPath;
	readonly kind: StepKind;
	/** Stage id, or `trouble:id` for the steps of a trouble. */
	readonly stage: string;
	readonly words: Localised<StepWords>;
	/** Share of the stage's planned duration. */
	readonly plannedMs: number;
	readonly require: Condition;
	/** At least one. The first that is offered now is the plain one: "next" gives it, where the kind allows. */
	readonly outcomes: readonly Outcome[];
	readonly hazard?: Hazard;
	/** For `reading` and `adjust`: asked one after another. */
	readonly readings: readonly ReadingSpec[];
	readonly wait?: { readonly forMs: number };
	readonly adjust?: AdjustSpec;
	/** Present on a step that may be skipped: what must hold if it is, and where the walk goes on. */
	readonly optional?: { readonly ifLeftOut: Condition; readonly leadsTo: Target };
	/** The world cannot go back behind this step (a cut, a weld): undo only corrects the record. */
	readonly final: boolean;
	/** Parts that this step may change although a change invariant forbids it: the small moves the step names. */
	readonly smallMoves: readonly PartId[];
	/** What the hands must be for this step; `clean`: touch is refused. */
	readonly hands: 'any' | 'clean';
	/** The safe end may join the walk here whenever `require` holds. */
	readonly entry: boolean;
	readonly drawing?: DrawingUse;
}

export interface StepWords {
	/** Imperative, for a trainee. */
	readonly full: string;
	/** For the practised, and for the far view. */
	readonly short: string;
	/** As the mouth says it. */
	readonly spoken: string;
	/** What to look for; may be empty. */
	readonly look: string;
}

export interface Outcome {
	readonly id: string;
	/** What a person answers: shown on the target, said aloud. */
	readonly answer: Localised;
	/** Parts this outcome sets. */
	readonly set: readonly { readonly part: PartId; readonly to: ConditionId }[];
	/** The first route whose `when` holds after `set` is taken; the last has no `when`. */
	readonly go: readonly Route[];
	/** Offered only while this holds (a slot that is not there can't be chosen). */
	readonly offered?: Condition;
	/** For adjust and reading steps: taken by the guide when the readings say so, never by hand alone. */
	readonly when?: 'within' | 'beyond' | 'in range' | 'out of range';
}

export interface Route {
	readonly when?: Condition;
	readonly to: Target;
}

/** Where the walk goes on. `same`: the step in which the trouble was called. */
export type Target =
	| { readonly step: StepPath }
	| { readonly back: 'same' }
	| { readonly back: StepPath }
	| { readonly trouble: TroubleId }
	| { readonly end: 'complete' | 'safe' };

/** ANSI Z535.4 signal words, from memory of the standard; the project's check names it. */
export type SignalWord = 'danger' | 'warning' | 'caution' | 'notice';

export interface Hazard {
	readonly signal: SignalWord;
	/** What can happen. */
	readonly what: Localised;
	/** How to keep clear. */
	readonly avoid: Localised;
	/** Must be read back and confirmed before the step can end. */
	readonly confirm: boolean;
}

export interface ReadingSpec {
	readonly id: string;
	readonly name: Localised;
	readonly unit: string;
	/** Outside: refused. */
	readonly min: number;
	readonly max: number;
	/** Outside, but within min..max: questioned before it counts. */
	readonly plausible: readonly [number, number];
	/** For a reading judged by itself: the outcome is `in range` when |value − target| ≤ tolerance. */
	readonly judged?: { readonly target: number; readonly tolerance: number };
	readonly decimals: number;
}

export interface AdjustSpec {
	/** Name of a computed move of src/lib/metrology/moves. */
	readonly move: string;
	/** The reckoning's input → the id of this step's reading that gives it. */
	readonly from: Readonly<Record<string, string>>;
	/** Within: |error| ≤ tolerance, in the unit of the readings. */
	readonly tolerance: number;
	/** Rounds allowed before the outcome `beyond`. */
	readonly rounds: number;
}

/** An invariant over every state, or over every change of a part. */
export type Invariant =
	| { readonly id: string; readonly words: Localised; readonly always: Condition }
	| { readonly id: string; readonly words: Localised; readonly changes: PartId; readonly onlyWhile: Condition };

export interface Trouble {
	readonly id: TroubleId;
	readonly title: Localised;
	/** "Stop at the instrument first" stands on top. */
	readonly stopFirst: boolean;
	/** Where it can happen: in these steps, in these stages, and anywhere while the condition holds. Empty: anywhere. */
	readonly steps: readonly StepPath[];
	readonly stages: readonly StageId[];
	readonly while: Condition;
	/** What is true of the parts as soon as it is called. */
	readonly set: readonly { readonly part: PartId; readonly to: ConditionId }[];
	/** First step of the trouble, or a target where it has no steps of its own ("time runs short" → the safe end). */
	readonly go: readonly Route[];
}

export interface Ends {
	/** What must be true of the parts when the visit is complete. */
	readonly complete: Condition;
	/** What must be true of the parts when it was ended early. */
	readonly safe: Condition;
}

export interface DrawingUse {
	/** Name in the drawing registry (src/lib/drawing). */
	readonly name: string;
	/** Parameter → number, text, or `reading:id` / `part:id` for what the run knows. */
	readonly with: Readonly<Record<string, string | number | boolean>>;
}

/** The condition that always holds. */
export const always: Condition = { all: [] };
