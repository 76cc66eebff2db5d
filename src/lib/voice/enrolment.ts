/**
 * What one operator's words look like: takes of each word as vectors of the speech embedding, never as sound. Any sound may stand for a
 * word, in any language: the takes are compared with what is heard (take-matcher.ts), the head need not know them.
 */

import type { TakeVoice } from './operator/take-voice';

/** One time a word was said: its vectors one after another, as recorded and once more with noise mixed in, so that a noisy room is met too. */
export interface Take {
	readonly clean: ArrayLike<number>;
	readonly noisy: ArrayLike<number>;
	/** What it tells of who said it; takes that were made before this was kept have none. */
	readonly voice?: TakeVoice;
}

export interface EnrolledWord {
	/** The vocabulary's word that it stands for. */
	readonly word: string;
	/** What the operator calls it, where it is another word than the vocabulary's own. */
	readonly said?: string;
	readonly takes: readonly Take[];
}

/** One operator's words on this device. */
export interface Enrolment {
	readonly person: string;
	/** SHA-256 of the embedding network that made the vectors: those of another network mean nothing to this one. */
	readonly model: string;
	/** RFC 3339. */
	readonly changedAt: string;
	readonly words: readonly EnrolledWord[];
	/** Listen to this operator only, on this device. Off unless asked for. */
	readonly operatorOnly?: boolean;
}

/** Takes of a word that make it known. */
export const TAKES = 3;

export const isKnown = ({ takes }: EnrolledWord): boolean => takes.length >= TAKES;
