/**
 * Log mel energies of speech, frame by frame: 16 kHz, window 25 ms (Hann, 400 samples in a transform of 512), hop 10 ms, 32 bands
 * from 60 to 3800 Hz. The numbers are those that the embedding network was trained on (Lin, Kilgour, Roblek, Sharifi: "Training
 * keyword spotters with limited and synthesized speech data", ICASSP 2020); here they are computed from the formulas.
 */
import { powerSpectrum } from './spectrum';

export const SAMPLE_RATE = 16000;
export const HOP_SAMPLES = 160;
export const BANDS = 32;
const SIZE = 512;
const WINDOW = 400;
/** Bands, evenly spaced in mel between two frequencies. */
export interface MelShape {
	readonly bands: number;
	readonly lowHz: number;
	readonly highHz: number;
}

/** Those that the embedding network was trained on. */
const FOR_EMBEDDING: MelShape = { bands: BANDS, lowHz: 60, highHz: 3800 };
/** Level of a frame below which nothing is told apart, in dB re one step of 16 bits: digital silence and a quiet room read alike. */
const FLOOR_DB = 0;

/** What silence is in every band. */
export const SILENT_ROW: Float32Array = new Float32Array(BANDS).fill(FLOOR_DB / 10 + 2);

// Slaney's mel scale: linear to 1 kHz, logarithmic above (M. Slaney, Auditory Toolbox, Interval Research report 1998-010)
const STEP_HZ = 200 / 3;
const BREAK_HZ = 1000;
const LOG_STEP = Math.log(6.4) / 27;
const toMel = (hz: number) => (hz < BREAK_HZ ? hz / STEP_HZ : BREAK_HZ / STEP_HZ + Math.log(hz / BREAK_HZ) / LOG_STEP);
const toHz = (mel: number) => (mel < BREAK_HZ / STEP_HZ ? mel * STEP_HZ : BREAK_HZ * Math.exp(LOG_STEP * (mel - BREAK_HZ / STEP_HZ)));

interface Band {
	readonly first: number;
	readonly weights: Float64Array;
}

/** Triangles of equal area, the edges evenly spaced in mel. */
function bandsOf({ bands, lowHz, highHz }: MelShape): Band[] {
	const low = toMel(lowHz);
	const high = toMel(highHz);
	const edges = Array.from({ length: bands + 2 }, (_, i) => toHz(low + ((high - low) * i) / (bands + 1)));
	return Array.from({ length: bands }, (_, band) => {
		const [left, centre, right] = [edges[band]!, edges[band + 1]!, edges[band + 2]!];
		const weight = (bin: number) => {
			const hz = (bin * SAMPLE_RATE) / SIZE;
			return (Math.max(0, Math.min((hz - left) / (centre - left), (right - hz) / (right - centre))) * 2) / (right - left);
		};
		const first = Math.ceil((left * SIZE) / SAMPLE_RATE);
		const last = Math.floor((right * SIZE) / SAMPLE_RATE);
		return { first, weights: Float64Array.from({ length: last - first + 1 }, (_, i) => weight(first + i)) };
	});
}

/** Turns samples (−1 to 1) into rows of 32 numbers (or as many as the shape has bands), each its band's dB/10 + 2 on the scale of 16-bit samples. */
export class MelStream {
	readonly #bands: readonly Band[];
	readonly #window = Float64Array.from({ length: WINDOW }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / WINDOW));
	readonly #recent = new Float32Array(SIZE);
	readonly #frame = new Float64Array(SIZE);
	#pending = 0;

	constructor(shape: MelShape = FOR_EMBEDDING) {
		this.#bands = bandsOf(shape);
	}

	/** Adds one sample at a time; calls `take` with each finished row, which it may not keep. */
	push(samples: Float32Array, take: (row: Float32Array) => void): void {
		const row = new Float32Array(this.#bands.length);
		for (let from = 0; from < samples.length; ) {
			const count = Math.min(HOP_SAMPLES - this.#pending, samples.length - from);
			this.#recent.copyWithin(0, count);
			this.#recent.set(samples.subarray(from, from + count), SIZE - count);
			from += count;
			this.#pending += count;
			if (this.#pending < HOP_SAMPLES) continue;
			this.#pending = 0;
			this.#row(row);
			take(row);
		}
	}

	#row(row: Float32Array): void {
		const before = (SIZE - WINDOW) / 2;
		this.#frame.fill(0);
		for (let i = 0; i < WINDOW; i++) this.#frame[before + i] = this.#recent[before + i]! * 32768 * this.#window[i]!;
		const power = powerSpectrum(this.#frame);
		for (const [index, band] of this.#bands.entries()) {
			let energy = 0;
			for (let i = 0; i < band.weights.length; i++) energy += band.weights[i]! * power[band.first + i]!;
			row[index] = Math.max(FLOOR_DB, 10 * Math.log10(Math.max(energy, 1e-10))) / 10 + 2;
		}
	}
}
