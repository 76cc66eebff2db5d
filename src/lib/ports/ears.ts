import type { Enrolment } from '$lib/voice/enrolment';

/**
 * What hears. The shape is the W3C SpeechRecognition's (Web Speech API), so that the browser's own on-device engine,
 * the project's recogniser and a scripted one are interchangeable; one contract suite runs on all.
 */
export interface Ears {
	/** Whether this engine can work here, on the device, now. */
	available(): Promise<'available' | 'missing' | 'denied'>;
	/** Words to open from now on; an engine may ignore it and hear everything. */
	setVocabulary(words: readonly string[]): void;
	/**
	 * An operator's own words from now on; null: anyone's. `only`: as the enrolment asks, nobody else's count, but for "stop". `older`: made by another
	 * network, to be said again. An engine that can't use them says `unused`.
	 */
	enrol(enrolment: Enrolment | null): Promise<'used' | 'only' | 'older' | 'unused'>;
	start(): Promise<void>;
	stop(): void;
	/** One handler each; set before start. */
	onresult: ((heard: Heard) => void) | null;
	onerror: ((error: EarsError) => void) | null;
	onend: (() => void) | null;
	/** Input level 0–1, a few times a second, where the engine knows it. */
	onlevel: ((level: number) => void) | null;
}

export interface Heard {
	/** Best first. */
	readonly alternatives: readonly { readonly transcript: string; readonly confidence: number }[];
	readonly isFinal: boolean;
	/** The engine itself would not decide: `alternatives` are what it may have been. */
	readonly unsure?: boolean;
	/** Somebody else said it, while only the operator counts. */
	readonly foreign?: boolean;
}

/** `error` uses the W3C codes. */
export interface EarsError {
	readonly error: 'not-allowed' | 'audio-capture' | 'network' | 'language-not-supported' | 'aborted' | 'service-not-allowed' | 'no-speech';
	readonly message: string;
}
