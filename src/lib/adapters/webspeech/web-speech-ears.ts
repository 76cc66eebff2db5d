import type { Ears, EarsError } from '$lib/ports/ears';

/** The parts of the Web Speech API (W3C) that are used; TypeScript's DOM library lacks the on-device mode. */
interface Recognition extends EventTarget {
	lang: string;
	continuous: boolean;
	interimResults: boolean;
	maxAlternatives: number;
	processLocally: boolean;
	start(): void;
	abort(): void;
	onresult: ((event: { resultIndex: number; results: ArrayLike<ArrayLike<{ transcript: string; confidence: number }> & { isFinal: boolean }> }) => void) | null;
	onerror: ((event: { error: EarsError['error']; message: string }) => void) | null;
	onend: (() => void) | null;
}
export interface RecognitionClass {
	new (): Recognition;
	available?(options: { langs: string[]; processLocally: boolean }): Promise<string>;
}

/** The browser's own engine, in its on-device mode only: no sound leaves the device. Null where the browser has none. */
export function webSpeechEars(scope: { SpeechRecognition?: RecognitionClass }, language: string): Ears | null {
	const Engine = scope.SpeechRecognition;
	if (!Engine?.available) return null;
	let recognition: Recognition | null = null;
	let wanted = false;
	const begin = () => {
		const engine = new Engine();
		Object.assign(engine, { lang: language, continuous: true, interimResults: false, maxAlternatives: 3, processLocally: true });
		engine.onresult = ({ resultIndex, results }) => {
			for (const result of Array.from(results).slice(resultIndex))
				ears.onresult?.({ isFinal: result.isFinal, alternatives: Array.from(result, ({ transcript, confidence }) => ({ transcript: transcript.trim(), confidence })) });
		};
		engine.onerror = ({ error, message }) => {
			if (error === 'not-allowed' || error === 'service-not-allowed' || error === 'audio-capture') wanted = false;
			ears.onerror?.({ error, message });
		};
		// engines end by themselves after a silence: begin again while listening is wanted
		engine.onend = () => (wanted ? begin() : ears.onend?.());
		recognition = engine;
		engine.start();
	};
	const ears: Ears = {
		onresult: null,
		onerror: null,
		onend: null,
		onlevel: null,
		available: async () => ((await Engine.available?.({ langs: [language], processLocally: true })) === 'available' ? 'available' : 'missing'),
		setVocabulary: () => {},
		enrol: () => Promise.resolve('unused'),
		start: () => {
			wanted = true;
			begin();
			return Promise.resolve();
		},
		stop: () => {
			wanted = false;
			recognition?.abort();
		}
	};
	return ears;
}
