import type { Ears } from '$lib/ports/ears';

/** Ears that hear what a test tells them to. `say` is refused before start and outside the vocabulary, as real ears are deaf then. */
export interface ScriptedEars extends Ears {
	say(transcript: string, confidence?: number): boolean;
}

export function scriptedEars(): ScriptedEars {
	let started = false;
	let open: ReadonlySet<string> | null = null;
	const ears: ScriptedEars = {
		onresult: null,
		onerror: null,
		onend: null,
		onlevel: null,
		available: () => Promise.resolve('available'),
		setVocabulary: (words) => void (open = new Set(words.map((word) => word.toLowerCase()))),
		enrol: () => Promise.resolve('unused'),
		start: () => {
			started = true;
			return Promise.resolve();
		},
		stop() {
			if (!started) return;
			started = false;
			ears.onend?.();
		},
		say(transcript, confidence = 0.95) {
			if (!started || (open && !open.has(transcript.toLowerCase()))) return false;
			ears.onlevel?.(0.5);
			ears.onresult?.({ alternatives: [{ transcript, confidence }], isFinal: true });
			return true;
		}
	};
	return ears;
}
