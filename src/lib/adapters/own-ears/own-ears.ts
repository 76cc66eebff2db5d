import type { Ears } from '$lib/ports/ears';
import type { Microphone } from '$lib/ports/microphone';
import type { BeginRecogniser } from './messages';
import { soundLine } from './sound-line';

/** The project's own recogniser behind the ears' port: microphone → recogniser → results. */
export function ownEars(microphone: Microphone, begin: BeginRecogniser): Ears {
	let vocabulary: readonly string[] = [];
	const line = soundLine({
		microphone,
		begin,
		onmessage(message) {
			if (message.kind === 'level') ears.onlevel?.(message.level);
			else if (message.kind === 'heard' && message.alternatives.length > 0) {
				const alternatives = message.alternatives.map(({ word, confidence }) => ({ transcript: word, confidence }));
				ears.onresult?.({ alternatives, isFinal: true, unsure: message.unsure, ...(message.foreign ? { foreign: true } : {}) });
			}
		},
		onerror: (error) => ears.onerror?.(error),
		onend: () => ears.onend?.()
	});

	const ears: Ears = {
		onresult: null,
		onerror: null,
		onend: null,
		onlevel: null,
		available: () => Promise.resolve('available'),
		setVocabulary(words) {
			vocabulary = words;
			line.post({ kind: 'open', words });
		},
		async enrol(enrolment) {
			const loaded = await line.load();
			if (!loaded) return 'unused';
			const fits = enrolment?.model === loaded.takesOf;
			const enrolled = await line.ask({ kind: 'enrol', words: fits ? enrolment.words : [], only: (fits && enrolment.operatorOnly) ?? false }, 'enrolled');
			if (!enrolment) return 'unused';
			if (!fits) return 'older';
			return enrolled?.only ? 'only' : 'used';
		},
		async start() {
			if (!(await line.start(false))) return;
			line.post({ kind: 'open', words: vocabulary });
		},
		stop: line.stop
	};
	return ears;
}
