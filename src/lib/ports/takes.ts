import type { Take } from '$lib/voice/enrolment';
import type { TakeVerdict } from '$lib/voice/word-ends';
import type { EarsError } from './ears';

/** A word that was said for the enrolment. */
export interface TakeHeard {
	/** Absent where the sound was not good enough. */
	readonly take?: Take;
	readonly verdict: TakeVerdict;
	/** What the recogniser, which does not know the person, would have heard, likeliest first. */
	readonly heard: readonly { readonly word: string; readonly confidence: number }[];
}

/** How loud it is now, 0 to 1, and whether the room is too loud to say a word in. */
export interface RoomLevel {
	readonly level: number;
	readonly noisy: boolean;
}

/** Listens for words that are said one at a time, each made into a take; the sound is let go. */
export interface Takes {
	/** The mark of the network that makes the takes (Enrolment.model); null where it can't work, and `onerror` said why. */
	mark(): Promise<string | null>;
	/** The mark of what tells the takes' voices (TakeVoice.of); null where that can't be used. */
	voices(): Promise<string | null>;
	/** Opens the microphone; the same mark, or null where there is no sound, and `onerror` said why. */
	start(): Promise<string | null>;
	stop(): void;
	onlevel: ((level: RoomLevel) => void) | null;
	ontake: ((heard: TakeHeard) => void) | null;
	onerror: ((error: EarsError) => void) | null;
}
