/** What the page and the recogniser's worker say to each other. */
import type { Enrolment } from '$lib/voice/enrolment';

export type ToRecogniser =
	| { readonly kind: 'load'; readonly folder: string }
	| { readonly kind: 'begin'; readonly sampleRate: number }
	| { readonly kind: 'sound'; readonly samples: Float32Array }
	| { readonly kind: 'open'; readonly words: readonly string[] }
	| { readonly kind: 'enrolment'; readonly enrolment: Enrolment | null }
	/** The next word said is a take: its vector comes back instead of a decision. */
	| { readonly kind: 'take'; readonly wanted: boolean };

export type FromRecogniser =
	| { readonly kind: 'ready'; readonly words: readonly string[]; readonly head: string }
	/** The model cannot be used; `message` says why. */
	| { readonly kind: 'unusable'; readonly message: string }
	| { readonly kind: 'level'; readonly level: number }
	| { readonly kind: 'heard'; readonly alternatives: readonly { readonly word: string; readonly confidence: number }[]; readonly unsure: boolean }
	| { readonly kind: 'taken'; readonly vector: readonly number[]; readonly word: string | null; readonly loudness: number; readonly noise: number };

/** The recogniser's side of the wire: a worker, or in tests the same code beside the page. */
export interface RecogniserLine {
	post(message: ToRecogniser): void;
	onmessage: ((message: FromRecogniser) => void) | null;
	/** The worker itself failed. */
	onfail: ((message: string) => void) | null;
	close(): void;
}
