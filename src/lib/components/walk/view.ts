/** What the walk's pieces are told, in words already chosen (language, full or short) and numbers already reckoned. */

/** One answer of a check, one option of a choice. */
export interface AnswerView {
	readonly id: string;
	readonly answer: string;
	/** Digit or key that gives it, as shown. */
	readonly key?: string;
	/** Offered but not possible now; the reason is shown. */
	readonly not?: string;
}

/** One reading of the step. */
export interface ReadingView {
	readonly id: string;
	readonly name: string;
	readonly unit: string;
	/** What stands there now: digits being given, or the value that counts. Empty: none yet. */
	readonly text: string;
	/** open: to be given later; asked: being given; echoed: given, waiting for yes; taken: it counts. */
	readonly state: 'open' | 'asked' | 'echoed' | 'taken';
	/** Said under the number where it is out of what is usual. */
	readonly odd?: string;
}

/** The move that an adjust loop asks for, one sentence each; the first is the move. */
export interface MoveView {
	readonly words: readonly string[];
	/** |error| ÷ tolerance of every round so far, oldest first; 1 or less is within. Null where it can't be told. */
	readonly shares: readonly (number | null)[];
	/** The error has grown: said before everything else. */
	readonly grows?: string;
}

interface WordsView {
	/** The step, in the imperative. */
	readonly text: string;
	/** What to look for; empty for none. */
	readonly look: string;
}

export type StepView = WordsView &
	(
		| { readonly kind: 'do' }
		| { readonly kind: 'check' | 'choose'; readonly answers: readonly AnswerView[] }
		| { readonly kind: 'reading'; readonly readings: readonly ReadingView[] }
		| { readonly kind: 'wait'; readonly forMs: number; /** Negative once it is over. */ readonly leftMs: number }
		| {
				readonly kind: 'adjust';
				readonly readings: readonly ReadingView[];
				readonly round: number;
				readonly rounds: number;
				readonly tolerance: { readonly value: string; readonly unit: string };
				readonly move: MoveView | null;
		  }
	);

export type SignalWordView = 'danger' | 'warning' | 'caution' | 'notice';

export interface HazardView {
	readonly signal: SignalWordView;
	readonly what: string;
	readonly avoid: string;
}

export interface PartView {
	readonly id: string;
	readonly name: string;
	readonly is: string;
	/** The step in hand rests on it or changes it. */
	readonly matters?: boolean;
	readonly unknown?: boolean;
	/** A condition that can hurt someone or something. */
	readonly dangerous?: boolean;
}

/** A target beside the way on, or one of the further commands. */
export interface CommandView {
	readonly id: string;
	readonly label: string;
	/** Words that say it, preferred one only. */
	readonly said?: string;
	/** Key as shown. */
	readonly key?: string;
	/** Why it can't be done now; absent where it can. */
	readonly not?: string;
}

export interface TimesView {
	readonly step: number;
	readonly of: number;
	readonly inStepMs: number;
	/** Until the stage's likely end; negative: over it. Null where nothing is known. */
	readonly stageLeftMs: number | null;
	/** Of the whole visit; null where nothing is known. */
	readonly visitLeftMs: number | null;
	/** The numbers rest on planned times alone. */
	readonly byPlan?: boolean;
	/** Probability that the visit fits the booking; null without a booking. */
	readonly fits: number | null;
	/** Until the booking's end; negative: it is past. Null without a booking. */
	readonly bookingLeftMs: number | null;
	readonly pausedMs?: number;
	readonly unmeasuredMs?: number;
}

export interface EarsView {
	readonly listening: boolean;
	/** Preferred words of what can be said now, the likeliest first. */
	readonly canSay: readonly string[];
	/** What was heard last, until something follows from it. */
	readonly heard?: { readonly words: string; readonly sure: boolean; readonly confidence?: number; /** Somebody else said it: it did nothing. */ readonly foreign?: boolean };
	/** Nobody else than the operator is listened to. */
	readonly only?: boolean;
	/** Two words of which one was said: the person tells which. */
	readonly choices?: readonly string[];
	/** Why nothing is heard, as a sentence. */
	readonly problem?: string;
	/** 0 to 1, for the level bars; absent where no level is known. */
	readonly level?: number;
}
