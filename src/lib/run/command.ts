import type { Condition, PartId, StageId, StepPath, TroubleId } from '$lib/procedure/edition';
import type { InstrumentUsed } from '$lib/metrology/instrument';
import type { KnownPlaces } from '$lib/metrology/returns';
import type { Booking, Draft, StatedParts, Via } from './events';

/**
 * What a person asks of a run, with its arguments. Ids of the table of commands (commands.ts) are said, pressed or
 * touched; the others are done on a screen or by the guide itself.
 */
export type Command =
	| { readonly id: 'next'; /** A wait is cut short knowingly. */ readonly early?: boolean }
	| { readonly id: 'back' | 'again' | 'where' | 'time' | 'yes' | 'no' | 'deaf' | 'ears' | 'photo' | 'confirm' | 'stop' }
	| { readonly id: 'answer'; readonly outcome: string; readonly early?: boolean }
	| ReadingGiven
	| { readonly id: 'pause'; readonly reason?: string }
	| {
			readonly id: 'resume';
			/** The step's requirement does not hold, and that is known. */ readonly knowingly?: boolean;
	  }
	| {
			readonly id: 'trouble';
			readonly trouble?: TroubleId;
			/** Called where the procedure does not expect it. */ readonly elsewhere?: boolean;
	  }
	| { readonly id: 'note'; readonly text: string; readonly sound?: string }
	| { readonly id: 'skip'; readonly reason?: string; /** The whole stage that begins here. */ readonly stage?: StageId }
	| { readonly id: 'late'; readonly step?: StepPath; readonly done: string; readonly words: string }
	| { readonly id: 'hands'; readonly are: 'clean' | 'off' }
	| { readonly id: 'booking'; readonly end: Booking['end'] | null }
	| { readonly id: 'parts'; readonly parts: StatedParts; readonly why: string }
	| { readonly id: 'details'; readonly supervisor?: string | null; readonly sample?: string; readonly project?: string; readonly instrument?: InstrumentUsed }
	| { readonly id: 'handOver'; readonly to: string }
	| { readonly id: 'endVisit'; readonly why?: string; readonly sure?: boolean }
	/** Ends the run where it stands, by decision; without the safe end's condition only with the parts stated. */
	| { readonly id: 'abort'; readonly why: string; readonly parts?: StatedParts; readonly sure?: boolean }
	| { readonly id: 'takePen' }
	| {
			readonly id: 'attachment';
			readonly sha256: string;
			readonly type: string;
			readonly bytes: number;
			readonly name: string;
	  }
	| { readonly id: 'clockOffset'; readonly offsetMs: number }
	/** What was done in a gap that no clock measured; `seq` is the gap's `fromSeq` (timeline.ts). */
	| { readonly id: 'gap'; readonly seq: number; readonly answer: 'working' | 'away' | 'unknown' }
	| { readonly id: 'message'; readonly to: string; readonly text: string }
	| {
			readonly id: 'correct';
			readonly event: number;
			readonly field: string;
			readonly was: string;
			readonly is: string;
			readonly why: string;
	  }
	/** The app was opened again on this run: last sign of life before, and what was mended in the journal's copies. */
	| {
			readonly id: 'reopen';
			readonly last: { readonly at: string; readonly mono: number; readonly boot: string };
			readonly mended: readonly string[];
	  };

export interface ReadingGiven {
	readonly id: 'digits';
	/** Id of the reading asked for; absent: the one that is asked for now. */
	readonly reading?: string;
	readonly value: number;
	readonly unit: string;
	readonly uncertainty?: number | null;
	/** As said or keyed. */
	readonly raw: string;
	/** Outside its plausible range, and meant. */
	readonly meant?: boolean;
	/** Elsewhere than the stored place, and meant. */
	readonly placed?: boolean;
	/** Echoed, and confirmed. */
	readonly confirmed?: boolean;
}

/** What a decision needs to know besides the run. */
export interface DecideContext {
	readonly now: { readonly at: string; readonly mono: number; readonly boot: string };
	/** The press or word before this one, whether it counted or not, so that a bouncing pedal counts once. */
	readonly last?: { readonly command: Command['id']; readonly mono: number; readonly boot: string } | null;
	/** The question that "yes" and "no" would answer. */
	readonly asked?: Question | null;
	readonly via: Via;
	readonly device: string;
	/** Where stored places are expected, for readings of the stage's position. */
	readonly places?: KnownPlaces;
}

/** A message key with what fills it; ids in `params` are named by the screen in the edition's words. */
export interface Told<K extends string = string> {
	readonly key: K;
	readonly params: Readonly<Record<string, string | number>>;
	/** Pieces of a condition that do not hold. */
	readonly unmet?: readonly Condition[];
}

/** Why a command writes nothing. */
export interface Reason extends Told<ReasonKey> {
	/** Commands that would help instead. */
	readonly instead?: readonly Command['id'][];
}

/** Asked before anything is written. */
export interface Question extends Told<QuestionKey> {
	/** What "yes" does; null where an answer of another kind is wanted (a reason, the parts). */
	readonly yes: Command | null;
	/** What the answer must bring where "yes" is not enough. */
	readonly wants?: 'reason' | 'parts' | 'trouble' | 'answer' | 'reading' | 'skip';
}

/**
 * What a command comes to: events to write, in order (none for a command that only speaks), a question, or a refusal.
 * `told`: what the guide says besides (why it holds, the next move, what the last round showed).
 */
export type Decision =
	| {
			readonly drafts: readonly Draft[];
			readonly told?: readonly Told[];
			readonly ask?: undefined;
			readonly refused?: undefined;
	  }
	| { readonly ask: Question; readonly drafts?: undefined; readonly told?: undefined; readonly refused?: undefined }
	| { readonly refused: Reason; readonly drafts?: undefined; readonly told?: undefined; readonly ask?: undefined };

/** Parameters in brackets. */
export type ReasonKey =
	/** Second press or word within 700 ms. */
	| 'doublePress'
	/** Not in this state of the run [status]. */
	| 'notNow'
	/** The pen is with another device [device]. */
	| 'noPen'
	/** Gloves are clean: say it or press the pedal. */
	| 'cleanGloves'
	/** Nothing was asked that could be answered. */
	| 'nothingAsked'
	/** This step wants one of its answers [step]. */
	| 'wantsAnswer'
	/** This step wants its readings [step, reading]. */
	| 'wantsReading'
	/** No such answer here [step, outcome]. */
	| 'noSuchAnswer'
	/** This answer is not offered now [outcome] with `unmet`. */
	| 'notOffered'
	/** The guide takes this answer from the readings [outcome]. */
	| 'fromReadings'
	/** No reading is asked for now. */
	| 'noReadingAsked'
	/** Another reading is asked for now [reading, asked]. */
	| 'otherReading'
	/** Not a number. */
	| 'notANumber'
	/** In another unit than asked for [unit, expected]. */
	| 'otherUnit'
	/** Outside what is possible [value, min, max, unit]. */
	| 'outOfBounds'
	/** Nothing to confirm here. */
	| 'nothingToConfirm'
	/** Nothing to take back. */
	| 'nothingToUndo'
	/** Neither step nor stage may be left out [step]. */
	| 'notOptional'
	/** May be left out only if something holds [step] with `unmet`. */
	| 'mayNotLeaveOut'
	/** No such trouble [trouble]. */
	| 'noSuchTrouble'
	/** The same trouble was just called in this step [trouble]. */
	| 'sameTrouble'
	/** The parts are to be looked at and stated first. */
	| 'statePartsFirst'
	/** An invariant is broken [invariant] with `unmet`. */
	| 'invariantBroken'
	/** A part or condition that the edition does not have [part, condition]. */
	| 'noSuchCondition'
	/** A text is missing [field]. */
	| 'emptyText'
	/** No moment in RFC 3339 [text]. */
	| 'notAMoment'
	/** The visit is being ended already. */
	| 'endingAlready'
	/** This device has the pen already. */
	| 'penIsHere'
	/** The journal contradicts itself [seq, kind]. */
	| 'contradiction';

export type QuestionKey =
	/** Read back the hazard and confirm [step, signal]. */
	| 'confirmHazard'
	/** Echo [reading, value, unit, uncertainty]. */
	| 'echo'
	/** Outside the plausible range: meant? [reading, value, unit, low, high]. */
	| 'implausible'
	/** The stage stands farther from the stored place than it may have moved: right? [reading, value, unit, expected, offM, toleranceM] */
	| 'placeMoved'
	/** The wait has this long left [leftMs]. */
	| 'waitEarly'
	/** How long the wait has lasted is not measured [plannedMs]. */
	| 'waitNotMeasured'
	/** Which answer? [step] */
	| 'whichAnswer'
	/** Which reading value? [step, reading] */
	| 'whichReading'
	/** Which trouble? */
	| 'whichTrouble'
	/** Not expected in this step: call it all the same? [trouble, step] */
	| 'troubleElsewhere'
	/** Why is it left out? [step] */
	| 'whySkip'
	/** End the visit by the shortest safe path? */
	| 'endVisit'
	/** End the run here? [end safe: 1 or 0] */
	| 'abort'
	/** State the parts. */
	| 'stateParts'
	/** The step's requirement does not hold: go on all the same? [step] with `unmet`. */
	| 'requirementUnmet';

/** A requirement or invariant that something would break: which one, and the pieces that do not hold. */
export type Broken =
	| { readonly what: 'requirement'; readonly about: StepPath; readonly unmet: readonly Condition[] }
	| { readonly what: 'invariant'; readonly about: string; readonly unmet: readonly Condition[]; readonly part?: PartId }
	| { readonly what: 'end'; readonly about: 'complete' | 'safe'; readonly unmet: readonly Condition[] };
