/**
 * Brings a stream of samples from any rate to another by band-limited interpolation: a windowed sinc, cut off below the lower of
 * the two half rates. Source: J. O. Smith and P. Gossett, "A flexible sampling-rate conversion method", ICASSP 1984.
 */

/** Zero crossings of the sinc on either side, and the Kaiser window's shape (about −80 dB beyond the cut-off). */
const CROSSINGS = 24;
const KAISER_BETA = 8;
/** Share of the half rate that passes: the rest is the filter's slope. */
const PASS = 0.94;
const TABLE_STEPS = 512;

/** Modified Bessel function of the first kind, order zero, by its power series (Abramowitz and Stegun 9.6.12). */
function besselI0(x: number): number {
	let [sum, term] = [1, 1];
	for (let k = 1; term > sum * 1e-12; k++) {
		term *= (x / (2 * k)) ** 2;
		sum += term;
	}
	return sum;
}

const table = Float64Array.from({ length: CROSSINGS * TABLE_STEPS + 2 }, (_, i) => {
	const x = i / TABLE_STEPS;
	if (x >= CROSSINGS) return 0;
	const sinc = x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
	return (sinc * besselI0(KAISER_BETA * Math.sqrt(1 - (x / CROSSINGS) ** 2))) / besselI0(KAISER_BETA);
});

export class Resampler {
	readonly #step: number;
	/** Samples of the table's unit for one input sample; also the gain. */
	readonly #scale: number;
	readonly #reach: number;
	#kept: Float32Array;
	/** Where the next output sample lies, in input samples from the start of #kept. */
	#at: number;

	/** Both rates in Hz. */
	constructor(from: number, to: number) {
		this.#step = from / to;
		this.#scale = from === to ? 1 : Math.min(1, to / from) * PASS;
		this.#reach = Math.ceil(CROSSINGS / this.#scale);
		this.#kept = new Float32Array(this.#reach);
		this.#at = this.#reach;
	}

	/** Adds samples; returns the output samples that are settled by them. */
	push(samples: Float32Array): Float32Array {
		if (this.#step === 1) return samples;
		const all = new Float32Array(this.#kept.length + samples.length);
		all.set(this.#kept);
		all.set(samples, this.#kept.length);
		const count = Math.max(0, Math.ceil((all.length - this.#reach - this.#at) / this.#step));
		const out = new Float32Array(count);
		for (let i = 0; i < count; i++) out[i] = this.#interpolate(all, this.#at + i * this.#step);
		this.#at += count * this.#step;
		const drop = Math.min(all.length, Math.max(0, Math.floor(this.#at) - this.#reach));
		this.#kept = all.slice(drop);
		this.#at -= drop;
		return out;
	}

	#interpolate(input: Float32Array, at: number): number {
		let sum = 0;
		const last = Math.min(input.length - 1, Math.floor(at + this.#reach));
		for (let i = Math.max(0, Math.ceil(at - this.#reach)); i <= last; i++) {
			const place = Math.abs(i - at) * this.#scale * TABLE_STEPS;
			const index = Math.floor(place);
			if (index >= CROSSINGS * TABLE_STEPS) continue;
			const weight = table[index]! + (table[index + 1]! - table[index]!) * (place - index);
			sum += input[i]! * weight;
		}
		return sum * this.#scale;
	}
}

/** A whole recording at another rate; as long as it was, in seconds. */
export function resample(samples: Float32Array, from: number, to: number): Float32Array {
	if (from === to) return samples;
	const resampler = new Resampler(from, to);
	const tail = new Float32Array(Math.ceil(CROSSINGS / (Math.min(1, to / from) * PASS)) + Math.ceil(from / to) + 1);
	const whole = new Float32Array(Math.round((samples.length * to) / from));
	const first = resampler.push(samples);
	whole.set(first.subarray(0, whole.length));
	whole.set(resampler.push(tail).subarray(0, Math.max(0, whole.length - first.length)), Math.min(first.length, whole.length));
	return whole;
}
