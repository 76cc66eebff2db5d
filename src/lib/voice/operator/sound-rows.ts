/**
 * What a voice is told by, every 10 ms: log mel energies up to 7.6 kHz, level, and pitch by the normalised cross-correlation of the
 * sound with itself (D. Talkin, "A robust algorithm for pitch tracking (RAPT)", in "Speech coding and synthesis", 1995; here without
 * its tracking: the median over a word is enough).
 */
import { HOP_SAMPLES, MelStream, SAMPLE_RATE } from '../features/mel';
import { levelDb } from '../level';

export const VOICE_BANDS = 48;
const MEL = { bands: VOICE_BANDS, lowHz: 60, highHz: 7600 };

/** Samples that a level is taken over: 25 ms. */
const LEVEL_SAMPLES = 400;

const PITCH_RATE = 4000;
const EVERY = SAMPLE_RATE / PITCH_RATE;
const PITCH_HOP = HOP_SAMPLES / EVERY;
/** Smooths the sound before every fourth sample is taken: what lies above half that rate is no pitch. */
const SMOOTH = Float64Array.from({ length: 4 * EVERY }, (_, i) => (1 - Math.cos((2 * Math.PI * (i + 0.5)) / (4 * EVERY))) / (4 * EVERY));
const PITCH_WINDOW = 160;
/** Periods looked at: 400 to 60 Hz. */
const SHORTEST = 10;
const LONGEST = 67;
/** The shortest period that is nearly as good as the best: twice and three times the period are as good in theory. */
const NEARLY = 0.92;

export interface SoundRow {
	/** dB of each band over ten. */
	readonly mel: Float32Array;
	/** dB re full scale. */
	readonly levelDb: number;
	/** log2 of Hz; means something where `voicing` is high. */
	readonly pitch: number;
	/** Likeness of the sound to itself one period later, at most 1. */
	readonly voicing: number;
}

function pitchOf(samples: Float32Array): Pick<SoundRow, 'pitch' | 'voicing'> {
	const mean = samples.reduce((sum, x) => sum + x, 0) / samples.length;
	const sound = samples.map((x) => x - mean);
	let first = 0;
	for (let i = 0; i < PITCH_WINDOW; i++) first += sound[i]! * sound[i]!;
	let later = first;
	const likeness = new Float64Array(LONGEST - SHORTEST + 1);
	let voicing = -1;
	for (let lag = 1; lag <= LONGEST; lag++) {
		later += sound[lag + PITCH_WINDOW - 1]! ** 2 - sound[lag - 1]! ** 2;
		if (lag < SHORTEST) continue;
		let sum = 0;
		for (let i = 0; i < PITCH_WINDOW; i++) sum += sound[i]! * sound[i + lag]!;
		likeness[lag - SHORTEST] = sum / Math.sqrt(first * Math.max(0, later) + 1e-12);
		voicing = Math.max(voicing, likeness[lag - SHORTEST]!);
	}
	let best = likeness.indexOf(voicing);
	for (let k = 1; k < likeness.length - 1; k++) {
		if (likeness[k]! < NEARLY * voicing || likeness[k]! < likeness[k - 1]! || likeness[k]! < likeness[k + 1]!) continue;
		best = k;
		break;
	}
	return { pitch: Math.log2(PITCH_RATE / (SHORTEST + best + vertex(likeness, best))), voicing };
}

/** How far beside `at` the parabola through it and its neighbours is highest. */
function vertex(values: Float64Array, at: number): number {
	const [before, here, after] = [values[at - 1], values[at]!, values[at + 1]];
	if (before === undefined || after === undefined) return 0;
	const bend = before - 2 * here + after;
	return bend < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / bend)) : 0;
}

/** Turns samples at 16 kHz into rows, one each 10 ms. */
export class SoundRows {
	readonly #mel = new MelStream(MEL);
	#recent = new Float32Array(LEVEL_SAMPLES);
	/** At the lower rate; the newest last. */
	#low = new Float32Array(PITCH_WINDOW + LONGEST);

	/** Adds samples, a whole number of hops; `take` gets each new row, which it may keep. */
	push(samples: Float32Array, take: (row: SoundRow) => void): void {
		for (let at = 0; at < samples.length; at += HOP_SAMPLES) this.#hop(samples.subarray(at, at + HOP_SAMPLES), take);
	}

	#hop(samples: Float32Array, take: (row: SoundRow) => void): void {
		this.#recent = latest(this.#recent, samples, LEVEL_SAMPLES);
		this.#low = latest(this.#low, slowed(this.#recent), PITCH_WINDOW + LONGEST);
		this.#mel.push(samples, (mel) => take({ mel: mel.slice(), levelDb: levelDb(this.#recent), ...pitchOf(this.#low) }));
	}
}

/** The last hop of `recent` at the lower rate. */
function slowed(recent: Float32Array): Float32Array {
	const from = recent.length - HOP_SAMPLES - SMOOTH.length + EVERY;
	return Float32Array.from({ length: PITCH_HOP }, (_, k) => SMOOTH.reduce((sum, weight, i) => sum + weight * recent[from + k * EVERY + i]!, 0));
}

function latest(kept: Float32Array<ArrayBuffer>, more: Float32Array, most: number): Float32Array<ArrayBuffer> {
	const all = new Float32Array(most);
	all.set(kept.subarray(more.length));
	all.set(more, most - more.length);
	return all;
}
