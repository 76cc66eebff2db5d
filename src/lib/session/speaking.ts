import * as m from '$lib/paraglide/messages';
import type { Mouth } from '$lib/ports/mouth';
import type { RunState } from '$lib/run/state';
import type { Forecast } from '$lib/timing/port';
import type { Named } from './named';
import type { PreferenceValues } from './preferences.svelte';
import { spokenTime } from './time-words';
import { questionText, reasonText, statusText, toldText } from './telling';
import { visitSentence } from './visit-words';
import type { Answered } from './walk.svelte';

/** The guide's voice: what is said after each command, and on request. Sounds stand in where there is no voice. */
export interface Speaking {
	after(answered: Answered): void;
	step(state: RunState, full: boolean): void;
	where(state: RunState): void;
	/** `bookingLeftMs`: until the booking's end; null without one. */
	time(state: RunState, forecast: Forecast | null, bookingLeftMs: number | null): void;
	/** Once, ahead of the latest start of the return. */
	warn(texts: readonly string[]): void;
	say(text: string): void;
}

export function createSpeaking(mouth: Mouth, words: () => Named, preferences: () => PreferenceValues): Speaking {
	const language = () => words().language;
	const say = (text: string) => {
		if (preferences().speak && mouth.canSpeak(language())) void mouth.speak(text, language());
	};
	const sound = (earcon: Parameters<Mouth['sound']>[0]) => {
		if (preferences().earcons) mouth.sound(earcon);
	};

	function step(state: RunState, full: boolean): void {
		const step = state.edition.steps[state.step];
		if (!step) return;
		const w = words().stepWords(step);
		const hazard = step.hazard;
		const warned = hazard ? `${signalWord(hazard.signal)}. ${words().text(hazard.what)} ` : '';
		say(warned + (full ? `${w.full} ${w.look}` : w.spoken || w.short));
	}

	return {
		say,
		step,
		after(answered) {
			if (answered.kind === 'refused') {
				// a bouncing pedal needs no scolding
				if (answered.reason.key !== 'doublePress') sound('refused');
				return say(reasonText(answered.reason, words(), ''));
			}
			if (answered.kind === 'not kept') return sound('attention');
			if (answered.kind === 'asked') {
				sound('attention');
				return say(questionText(answered.question, words(), ''));
			}
			const { before, after, command, told } = answered;
			if (command.id === 'stop') {
				mouth.silence();
				return sound('refused');
			}
			if (after.status === 'held' && before.status !== 'held') sound('attention');
			else if (after.seq !== before.seq) sound('done');
			if (told.length) say(told.map((one) => toldText(one, words(), after.step)).join(' '));
			else if (after.status === 'running' && (after.step !== before.step || after.entered?.seq !== before.entered?.seq)) step(after, preferences().wording === 'full');
		},
		where(state) {
			const parts = state.edition.parts.map((part) => m.words_part_is({ part: words().part(part.id), is: words().condition(part.id, state.parts[part.id] ?? '') }));
			say(m.say_where({ stage: words().stage(state.edition.steps[state.step]?.stage ?? ''), step: words().step(state.step), status: statusText(state.status), parts: parts.join(', ') }));
		},
		time: ({ status }, forecast, bookingLeftMs) => say(visitSentence(status, forecast, { bookingLeftMs, time: spokenTime })),
		warn(texts) {
			sound('time');
			say(texts.join(' '));
		}
	};
}

export const signalWord = (signal: 'danger' | 'warning' | 'caution' | 'notice'): string =>
	({ danger: m.walk_signal_danger, warning: m.walk_signal_warning, caution: m.walk_signal_caution, notice: m.walk_signal_notice })[signal]();

