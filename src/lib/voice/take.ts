/** Makes takes: a word's sound in, its vectors out. The sound is let go. */
import type { Take } from './enrolment';
import { SAMPLE_RATE } from './features/mel';
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

/** The take of a word that lies between `from` and `to` (samples at 16 kHz) of a sound. */
export function takeOf(features: Features, sound: Float32Array, { from, to }: Pick<WordEnds, 'from' | 'to'>): Take {
	const begin = from - BEFORE_SAMPLES;
	const context = new Float32Array(BEFORE_SAMPLES + (to - from) + STEP * (STEPS_AFTER + 1));
	const first = Math.max(0, begin);
	context.set(sound.subarray(first, begin + context.length), first - begin);
	const noise = pinkNoise(context.length);
	const gain = (rms(context.subarray(BEFORE_SAMPLES, BEFORE_SAMPLES + to - from)) * 10 ** (-NOISE_RATIO_DB / 20)) / rms(noise);
	const [start, stop] = [BEFORE_SAMPLES, BEFORE_SAMPLES + to - from];
	return { clean: vectors(features, context, start, stop), noisy: vectors(features, context.map((x, i) => x + gain * noise[i]!), start, stop) };
}

/** The take of a recording that holds one word: where it is loudest, or all of it where nothing stands out. */
export function takeIn(features: Features, recording: Float32Array): Take {
	const lead = SAMPLE_RATE / 2;
	const sound = new Float32Array(lead + recording.length + lead);
	sound.set(recording, lead);
	const found: WordEnds[] = [];
	new WordEndFinder().push(sound, (word) => found.push(word));
	const loudest = found.toSorted((a, b) => (b.to - b.from) * 10 ** (b.levelDb / 10) - (a.to - a.from) * 10 ** (a.levelDb / 10))[0];
	return takeOf(features, sound, loudest ?? { from: lead, to: lead + recording.length });
}
