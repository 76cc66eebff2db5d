import type { EnrolledWord } from '$lib/voice/enrolment';
import { SAMPLE_RATE } from '$lib/voice/features/mel';
import { levelDb } from '$lib/voice/level';
import { Listener } from '$lib/voice/listener';
import { loadModel } from '$lib/voice/model';
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
	enrol(words: readonly EnrolledWord[]): void;
	/** `takes`: what is said is made into takes. */
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

	function step(samples: Float32Array): void {
		taking?.push(samples, (heard) => post({ kind: 'take', ...heard }));
		post({ kind: 'level', level: meter(levelDb(samples)), noisy: taking !== null && isNoisyRoom(taking.roomDb) });
		if (!taking) listener.push(samples, (heard) => post({ kind: 'heard', alternatives: heard.alternatives, unsure: heard.unsure }));
	}

	return {
		words: model.words,
		takesOf: model.takesOf,
		enrol: (words) => listener.enrol(words.filter(({ word }) => model.words.includes(word))),
		// words of a procedure that the recogniser was not taught are said by their place instead
		open: (words) => listener.setOpen([...new Set(words.flatMap((word) => spelled.get(word.toLowerCase()) ?? []))]),
		begin(sampleRate, takes) {
			taking = takes ? createTaking(model) : null;
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
