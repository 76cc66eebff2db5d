import type { EnrolledWord } from '$lib/voice/enrolment';
import type { RoomLevel, TakeHeard } from '$lib/ports/takes';

/** What the page and the recogniser's worker say to each other. */
export type ToRecogniser =
	| { readonly kind: 'load' }
	/** `takes`: words are made into takes instead of commands. */
	| { readonly kind: 'begin'; readonly sampleRate: number; readonly takes?: boolean }
	| { readonly kind: 'sound'; readonly samples: Float32Array }
	| { readonly kind: 'open'; readonly words: readonly string[] }
	/** `only`: nobody else's words count; answered by `enrolled`. */
	| { readonly kind: 'enrol'; readonly words: readonly EnrolledWord[]; readonly only: boolean }
	/** Answered by `voices`. */
	| { readonly kind: 'voices' };

export type FromRecogniser =
	/** `takesOf`: Enrolment.model of takes made here. */
	| { readonly kind: 'ready'; readonly words: readonly string[]; readonly takesOf: string }
	/** The model cannot be used; `message` says why. */
	| { readonly kind: 'unusable'; readonly message: string }
	/** One each 80 ms. */
	| ({ readonly kind: 'level' } & RoomLevel)
	| { readonly kind: 'heard'; readonly alternatives: readonly { readonly word: string; readonly confidence: number }[]; readonly unsure: boolean; readonly foreign?: boolean }
	/** Whether only the operator's words count now. */
	| { readonly kind: 'enrolled'; readonly only: boolean }
	/** TakeVoice.of of takes made here; null where voices can't be told. */
	| { readonly kind: 'voices'; readonly mark: string | null }
	| ({ readonly kind: 'take' } & TakeHeard);

/** The page's end of the wire to the recogniser: a worker, or in tests the same code beside the page. */
export interface RecogniserLine {
	post(message: ToRecogniser): void;
	close(): void;
}

/** Begins a recogniser; `take` gets its messages, `fail` is called if it breaks down. */
export type BeginRecogniser = (take: (message: FromRecogniser) => void, fail: (message: string) => void) => RecogniserLine;
