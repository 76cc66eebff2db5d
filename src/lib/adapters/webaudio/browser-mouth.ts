import type { Mouth } from '$lib/ports/mouth';
import { earconLengthMs, playEarcon } from './earcons';

/** speechSynthesis where the device has a voice of its own, earcons everywhere. */
export function browserMouth(window: Window & typeof globalThis): Mouth {
	const synthesis = window.speechSynthesis as SpeechSynthesis | undefined;
	let context: AudioContext | null = null;
	let speaking = false;
	let soundsUntil = 0;
	const voiceFor = (language: string) =>
		synthesis?.getVoices().find((voice) => voice.localService && voice.lang.toLowerCase().startsWith(language.slice(0, 2).toLowerCase()));

	return {
		canSpeak: (language) => voiceFor(language) !== undefined,
		speak(text, language) {
			const voice = voiceFor(language);
			if (!synthesis || !voice || text === '') return Promise.resolve();
			synthesis.cancel();
			return new Promise((resolve) => {
				const utterance = new SpeechSynthesisUtterance(text);
				utterance.voice = voice;
				utterance.lang = voice.lang;
				speaking = true;
				const ended = () => {
					speaking = false;
					resolve();
				};
				utterance.onend = ended;
				utterance.onerror = ended;
				synthesis.speak(utterance);
			});
		},
		sound(earcon) {
			context ??= new AudioContext();
			void context.resume();
			playEarcon(context, earcon, 0.25);
			soundsUntil = Math.max(soundsUntil, performance.now() + earconLengthMs(earcon));
		},
		silence: () => synthesis?.cancel(),
		get sounding() {
			return speaking || performance.now() < soundsUntil;
		}
	};
}
