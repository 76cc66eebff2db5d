import type { EnrolledWord } from '$lib/voice/enrolment';
import { SAMPLE_RATE } from '$lib/voice/features/mel';
import { levelDb } from '$lib/voice/level';
import { Listener } from '$lib/voice/listener';
import { loadModel } from '$lib/voice/model';
import { OperatorCheck, tellsVoice } from '$lib/voice/operator/operator-check';
import { type LoadedVoices, loadVoices } from '$lib/voice/operator/voices';
import { Resampler } from '$lib/voice/resample';
import { STEP_SAMPLES } from '$lib/voice/stages';
import { isNoisyRoom } from '$lib/voice/word-ends';
import type { FromRecogniser } from './messages';
import { createTaking, type Taking } from './taking';

/** A loaded recogniser at work on one stream of sound. */
export interface Hearing {
	readonly words: readonly string[];
	readonly takesOf: string;
	open(words: readonly string[]): void;
	/** `only`: nobody else's words count. Resolves to whether that is so: the takes may tell too little, or what tells voices be missing. */
	enrol(words: readonly EnrolledWord[], only: boolean): Promise<boolean>;
	/** Loads what tells voices apart, if it was not yet; its mark, or null where it is missing or damaged: all else works without. */
	voices(): Promise<string | null>;
	/** `takes`: what is said is made into takes, which tell of a voice once that was loaded. */
	begin(sampleRate: number, takes: boolean): void;
	sound(samples: Float32Array): void;
}

/** A level of 1 is full scale; speech near a microphone lies about 20 to 50 dB below. */
const QUIETEST_DB = -60;

const meter = (db: number): number => Math.max(0, Math.min(1, 1 - db / QUIETEST_DB));

/** Loads and checks the recogniser's files. Rejects with a sentence where one is missing or damaged. */
export async function createHearing(read: (file: string) => Promise<Uint8Array>, post: (message: FromRecogniser) => void): Promise<Hearing> {
	const model = await loadModel(read);
	const listener = new Listener(model);
	const spelled = new Map(model.words.map((word) => [word.toLowerCase(), word]));
	let resampler = new Resampler(SAMPLE_RATE, SAMPLE_RATE);
	let waiting = new Float32Array(0);
	let taking: Taking | null = null;
	let voices: LoadedVoices | null = null;
	let loading: Promise<void> | null = null;
	const load = () => (loading ??= loadVoices(read).then((found) => void (voices = found), () => void (loading = null)));

	function step(samples: Float32Array): void {
		taking?.push(samples, (heard) => post({ kind: 'take', ...heard }));
		post({ kind: 'level', level: meter(levelDb(samples)), noisy: taking !== null && isNoisyRoom(taking.roomDb) });
		if (taking) return;
		listener.push(
			samples,
			({ alternatives, unsure }) => post({ kind: 'heard', alternatives, unsure }),
			({ alternatives, unsure }) => post({ kind: 'heard', alternatives, unsure, foreign: true })
		);
	}

	return {
		words: model.words,
		takesOf: model.takesOf,
		async voices() {
			await load();
			return voices?.eigenvoices.mark ?? null;
		},
		async enrol(words, only) {
			listener.enrol(words.filter(({ word }) => model.words.includes(word)));
			if (only) await load();
			const check = only && voices && tellsVoice(words, voices.eigenvoices.mark) ? new OperatorCheck(voices.eigenvoices, voices.weighing, words) : null;
			listener.listenOnlyTo(check);
			return check !== null;
		},
		// words of a procedure that the recogniser was not taught are said by their place instead
		open: (words) => listener.setOpen([...new Set(words.flatMap((word) => spelled.get(word.toLowerCase()) ?? []))]),
		begin(sampleRate, takes) {
			taking = takes ? createTaking(model, voices?.eigenvoices) : null;
			resampler = new Resampler(sampleRate, SAMPLE_RATE);
			waiting = new Float32Array(0);
			listener.reset();
		},
		sound(samples) {
			const more = resampler.push(samples);
			const all = new Float32Array(waiting.length + more.length);
			all.set(waiting);
			all.set(more, waiting.length);
			let at = 0;
			for (; at + STEP_SAMPLES <= all.length; at += STEP_SAMPLES) step(all.subarray(at, at + STEP_SAMPLES));
			waiting = all.slice(at);
		}
	};
}
