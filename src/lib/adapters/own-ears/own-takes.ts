import type { Microphone } from '$lib/ports/microphone';
import type { Takes } from '$lib/ports/takes';
import type { BeginRecogniser } from './messages';
import { soundLine } from './sound-line';

/** The project's own recogniser as it makes takes of an operator's words. */
export function ownTakes(microphone: Microphone, begin: BeginRecogniser): Takes {
	const line = soundLine({
		microphone,
		begin,
		onmessage(message) {
			if (message.kind === 'level') takes.onlevel?.(message);
			else if (message.kind === 'take') takes.ontake?.(message);
		},
		onerror: (error) => takes.onerror?.(error),
		onend: () => undefined
	});
	const takes: Takes = {
		onlevel: null,
		ontake: null,
		onerror: null,
		mark: async () => (await line.load())?.takesOf ?? null,
		voices: async () => ((await line.load()) ? ((await line.ask({ kind: 'voices' }, 'voices'))?.mark ?? null) : null),
		start: async () => (await line.start(true))?.takesOf ?? null,
		stop: line.stop
	};
	return takes;
}
