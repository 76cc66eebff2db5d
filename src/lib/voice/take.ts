/** Makes takes: a word's sound in, its vectors out. The sound is let go. */
import type { Take } from './enrolment';
import { SAMPLE_RATE } from './features/mel';
import type { Eigenvoices } from './operator/eigenvoices';
import { heardVoice, rowsOf, takeVoice, type TakeVoice } from './operator/take-voice';
import { type Features, STEP_SAMPLES as STEP } from './stages';
import { WordEndFinder, type WordEnds } from './word-ends';

/** Sound before the word that the network sees with it, and steps after its end that belong to it. */
const BEFORE_SAMPLES = SAMPLE_RATE;
const STEPS_AFTER = 1;
/** The second hearing of a take: pink noise so far below the word. */
const NOISE_RATIO_DB = 10;

/** Pink noise by Kellet's three-pole filter (P. Kellet, music-dsp list, 1999) of a white one by a linear congruential generator (Numerical Recipes' constants), the same each time. */
function pinkNoise(length: number): Float32Array {
	let state = 1;
	let [a, b, c] = [0, 0, 0];
	return Float32Array.from({ length }, () => {
		state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
		const white = state / 2 ** 31 - 1;
		a = 0.99765 * a + white * 0.099046;
		b = 0.963 * b + white * 0.2965164;
		c = 0.57 * c + white * 1.0526913;
		return a + b + c + white * 0.1848;
	});
}

const rms = (samples: Float32Array) => Math.sqrt(samples.reduce((sum, x) => sum + x * x, 0) / samples.length);

function vectors(features: Features, sound: Float32Array, from: number, to: number): Float32Array {
	const numbers: number[] = [];
	let end = 0;
	const last = Math.ceil(to / STEP) + STEPS_AFTER;
	features.reset();
	for (let at = 0; at < last * STEP; at += STEP) {
		const part = new Float32Array(STEP);
		part.set(sound.subarray(at, at + STEP));
		features.push(part, (vector) => {
			end++;
			if (end * STEP > from && end <= last) numbers.push(...vector);
		});
	}
	features.reset();
	return Float32Array.from(numbers);
}

interface TakeSounds {
	readonly clean: Float32Array;
	readonly noisy: Float32Array;
	/** Where the word lies in both. */
	readonly from: number;
	readonly to: number;
}

/** A word between `from` and `to` (samples at 16 kHz) of a sound, with what the network sees beside it; and the same in noise. */
function soundsOf(sound: Float32Array, { from, to }: Pick<WordEnds, 'from' | 'to'>): TakeSounds {
	const begin = from - BEFORE_SAMPLES;
	const clean = new Float32Array(BEFORE_SAMPLES + (to - from) + STEP * (STEPS_AFTER + 1));
	const first = Math.max(0, begin);
	clean.set(sound.subarray(first, begin + clean.length), first - begin);
	const noise = pinkNoise(clean.length);
	const gain = (rms(clean.subarray(BEFORE_SAMPLES, BEFORE_SAMPLES + to - from)) * 10 ** (-NOISE_RATIO_DB / 20)) / rms(noise);
	return { clean, noisy: clean.map((x, i) => x + gain * noise[i]!), from: BEFORE_SAMPLES, to: BEFORE_SAMPLES + to - from };
}

/** The take of a word that lies between `from` and `to` of a sound; with `eigenvoices`, what it tells of who said it too. */
export function takeOf(features: Features, sound: Float32Array, ends: Pick<WordEnds, 'from' | 'to'>, eigenvoices?: Eigenvoices): Take {
	const { clean, noisy, from, to } = soundsOf(sound, ends);
	const voice = eigenvoices && voiceOf(eigenvoices, clean, noisy);
	return { clean: vectors(features, clean, from, to), noisy: vectors(features, noisy, from, to), ...(voice ? { voice } : {}) };
}

/** Undefined where no word stands out. */
function voiceOf(eigenvoices: Eigenvoices, clean: Float32Array, noisy: Float32Array): TakeVoice | undefined {
	const [word, inNoise] = [heardVoice(rowsOf(clean)), heardVoice(rowsOf(noisy))];
	return word && inNoise && takeVoice(eigenvoices, word, inNoise);
}

/** A recording that holds one word, with silence around it, and where the word is: where it is loudest, or all of it where nothing stands out. */
function wordIn(recording: Float32Array): { readonly sound: Float32Array; readonly ends: Pick<WordEnds, 'from' | 'to'> } {
	const lead = SAMPLE_RATE / 2;
	const sound = new Float32Array(lead + recording.length + lead);
	sound.set(recording, lead);
	const found: WordEnds[] = [];
	new WordEndFinder().push(sound, (word) => found.push(word));
	const loudest = found.toSorted((a, b) => (b.to - b.from) * 10 ** (b.levelDb / 10) - (a.to - a.from) * 10 ** (a.levelDb / 10))[0];
	return { sound, ends: loudest ?? { from: lead, to: lead + recording.length } };
}

/** The sounds that a take of a recording is made from. */
export function takeSoundsIn(recording: Float32Array): TakeSounds {
	const { sound, ends } = wordIn(recording);
	return soundsOf(sound, ends);
}

/** The take of a recording that holds one word. */
export function takeIn(features: Features, recording: Float32Array, eigenvoices?: Eigenvoices): Take {
	const { sound, ends } = wordIn(recording);
	return takeOf(features, sound, ends, eigenvoices);
}
