import type { Ears, EarsError } from '$lib/ports/ears';
import type { Mouth } from '$lib/ports/mouth';

/** What the ears do, for the line that tells what can be said. */
export interface Listening {
	readonly listening: boolean;
	readonly level: number;
	readonly heard: { readonly words: string; readonly sure: boolean } | null;
	/** Why nothing is heard: said plainly, all else goes on. */
	readonly problem: EarsError['error'] | 'missing' | null;
	hear(): Promise<void>;
	deafen(): void;
	setVocabulary(words: readonly string[]): void;
}

export interface ListeningNeeds {
	readonly ears: () => Ears | null;
	readonly mouth: Mouth;
	/** Returns whether the words meant anything now. */
	readonly onheard: (heard: { words: string; confidence: number }) => boolean;
}

/** Below this a word is shown as unsure and does nothing: a false command costs more than a repeated word. */
const SURE = 0.5;

export function createListening({ ears, mouth, onheard }: ListeningNeeds): Listening {
	let on = $state(false);
	let level = $state(0);
	let heard = $state.raw<Listening['heard']>(null);
	let problem = $state.raw<Listening['problem']>(null);
	let current: Ears | null = null;

	async function hear(): Promise<void> {
		current = ears();
		if (!current || (await current.available()) !== 'available') {
			problem = 'missing';
			return;
		}
		current.onlevel = (now) => (level = now);
		current.onend = () => (on = false);
		current.onerror = ({ error }) => {
			problem = error;
			on = false;
		};
		current.onresult = (result) => {
			const best = result.alternatives[0];
			// the guide's own voice is no command
			if (!best || !result.isFinal || mouth.sounding) return;
			const sure = best.confidence >= SURE;
			heard = { words: best.transcript, sure };
			if (sure && !onheard({ words: best.transcript, confidence: best.confidence })) heard = { words: best.transcript, sure: false };
		};
		problem = null;
		await current.start();
		on = true;
	}

	return {
		get listening() {
			return on;
		},
		get level() {
			return level;
		},
		get heard() {
			return heard;
		},
		get problem() {
			return problem;
		},
		hear,
		deafen() {
			on = false;
			current?.stop();
		},
		setVocabulary: (words) => current?.setVocabulary(words)
	};
}
