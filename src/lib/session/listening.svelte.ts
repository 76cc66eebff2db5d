import type { Ears, EarsError } from '$lib/ports/ears';
import type { Mouth } from '$lib/ports/mouth';
import type { Enrolment } from '$lib/voice/enrolment';

/** What the ears do, for the line that tells what can be said. */
export interface Listening {
	readonly listening: boolean;
	readonly level: number;
	/** `foreign`: somebody else said it, while only the operator counts. */
	readonly heard: { readonly words: string; readonly sure: boolean; readonly confidence: number; readonly foreign?: boolean } | null;
	/** After two unsure hearings in a row: which of the two was said? Answered by saying it again, or by `choose`. */
	readonly choices: readonly string[] | null;
	/** Why nothing is heard: said plainly, all else goes on. */
	readonly problem: EarsError['error'] | 'missing' | null;
	/**
	 * Whether the operator's own words are heard by; `only`: and nobody else's; `everyone`: that was asked for, and can't be; `older`: they were said to
	 * another network; `unread`: the device could not read them.
	 */
	readonly voice: 'used' | 'only' | 'everyone' | 'older' | 'unused' | 'unread';
	hear(): Promise<void>;
	deafen(): void;
	setVocabulary(words: readonly string[]): void;
	choose(words: string): void;
}

export interface ListeningNeeds {
	readonly ears: () => Ears | null;
	readonly mouth: Mouth;
	/** The operator's own words, if any are kept here. */
	readonly enrolment: () => Promise<Enrolment | undefined>;
	/** Returns whether the words meant anything now. */
	readonly onheard: (heard: { words: string; confidence: number }) => boolean;
}

/** Of an engine that does not tell by itself: below this a word is shown as unsure and does nothing. A false command costs more than a repeated word. */
const SURE = 0.5;
/** Unsure hearings in a row that lead to a question. */
const UNSURE_LIMIT = 2;
/** Reports of level (one each 80 ms) after the guide's last sound in which nothing counts: its tail is decided on that late. */
const QUIET_REPORTS = 6;
/** Reports of level that somebody else's word is shown for (8 s): time to say it again if it was the operator's. */
const FOREIGN_REPORTS = 100;

export function createListening({ ears, mouth, enrolment, onheard }: ListeningNeeds): Listening {
	let on = $state(false);
	let level = $state(0);
	let heard = $state.raw<Listening['heard']>(null);
	let choices = $state.raw<Listening['choices']>(null);
	let problem = $state.raw<Listening['problem']>(null);
	let voice = $state<Listening['voice']>('unused');
	let current: Ears | null = null;
	/** Counts beginnings and ends, so that what was begun before the last end is not taken for listening. */
	let turn = 0;
	let unsureInRow = 0;
	let quietReports = QUIET_REPORTS;
	let foreignReports = 0;

	function take(words: string, confidence: number): void {
		unsureInRow = 0;
		choices = null;
		heard = { words, confidence, sure: onheard({ words, confidence }) };
	}

	/** Nothing follows but a line: an operator who was taken for somebody else says it again. */
	function pass({ transcript, confidence }: { transcript: string; confidence: number }, unsure: boolean): void {
		if (unsure) return;
		heard = { words: transcript, confidence, sure: false, foreign: true };
		foreignReports = 0;
	}

	function doubt(alternatives: readonly { transcript: string; confidence: number }[]): void {
		const best = alternatives[0]!;
		heard = { words: best.transcript, confidence: best.confidence, sure: false };
		if (++unsureInRow < UNSURE_LIMIT || alternatives.length < 2) return;
		unsureInRow = 0;
		choices = alternatives.slice(0, 2).map(({ transcript }) => transcript);
	}

	function end(): void {
		turn++;
		on = false;
	}

	async function hear(): Promise<void> {
		const mine = ++turn;
		current = ears();
		if (!current || (await current.available()) !== 'available') {
			problem = 'missing';
			return;
		}
		current.onlevel = (now) => {
			level = now;
			quietReports = mouth.sounding ? 0 : quietReports + 1;
			if (heard?.foreign && ++foreignReports > FOREIGN_REPORTS) heard = null;
		};
		current.onend = end;
		current.onerror = ({ error }) => {
			problem = error;
			end();
		};
		current.onresult = (result) => {
			const best = result.alternatives[0];
			// the guide's own voice is no command
			if (!best || !result.isFinal || mouth.sounding || quietReports < QUIET_REPORTS) return;
			if (result.foreign) pass(best, result.unsure ?? false);
			else if (result.unsure ?? best.confidence < SURE) doubt(result.alternatives);
			else take(best.transcript, best.confidence);
		};
		problem = null;
		quietReports = QUIET_REPORTS;
		try {
			const kept = (await enrolment()) ?? null;
			const used = await current.enrol(kept);
			voice = kept?.operatorOnly && used === 'used' ? 'everyone' : used;
		} catch {
			// told on the screen; anyone's words are heard all the same
			voice = 'unread';
		}
		if (mine !== turn) return;
		await current.start();
		if (mine === turn) on = true;
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
		get choices() {
			return choices;
		},
		get problem() {
			return problem;
		},
		get voice() {
			return voice;
		},
		hear,
		deafen() {
			end();
			choices = null;
			current?.stop();
		},
		setVocabulary: (words) => current?.setVocabulary(words),
		choose: (words) => take(words, 1)
	};
}
