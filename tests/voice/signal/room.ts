/** What a room and a device do to a voice: pace and size of the speaker, echo, colour. */
import type { Chance } from '../random';
import { SAMPLE_RATE } from '$lib/voice/features/mel';

/** Plays faster (and higher) by `factor`, by linear interpolation after the caller's band limit: a speaker of another size. */
export function paced(samples: Float32Array, factor: number): Float32Array {
	const length = Math.floor((samples.length - 1) / factor);
	return Float32Array.from({ length: Math.max(0, length) }, (_, i) => {
		const at = i * factor;
		const whole = Math.floor(at);
		return samples[whole]! + (samples[whole + 1]! - samples[whole]!) * (at - whole);
	});
}

/**
 * Echo: a few early reflections and a tail of four damped feedback combs (M. Schroeder, "Natural sounding artificial
 * reverberation", J. Audio Eng. Soc. 10, 1962). `seconds` is the time in which it falls by 60 dB.
 */
export function echoing(samples: Float32Array, seconds: number, share: number, chance: Chance): Float32Array {
	const out = Float32Array.from(samples);
	const reflections = Array.from({ length: 5 }, () => [Math.floor(chance.between(20, 500)), chance.between(-0.5, 0.5)] as const);
	for (const [delay, gain] of reflections) for (let i = delay; i < out.length; i++) out[i] = out[i]! + samples[i - delay]! * gain * share;
	for (const base of [1116, 1277, 1491, 1617]) {
		const delay = Math.floor((base * SAMPLE_RATE) / 44100 * chance.between(0.7, 1.6));
		const gain = 10 ** ((-3 * delay) / (seconds * SAMPLE_RATE));
		const line = new Float32Array(delay);
		let dull = 0;
		for (let i = 0; i < out.length; i++) {
			const heard = line[i % delay]!;
			dull = 0.6 * heard + 0.4 * dull;
			line[i % delay] = samples[i]! + dull * gain;
			out[i] = out[i]! + heard * share * 0.35;
		}
	}
	return out;
}

/** A random colour: one low-pass, one high-pass and a tilt, each of first order. */
export function coloured(samples: Float32Array, chance: Chance): Float32Array {
	const low = 1 - Math.exp((-2 * Math.PI * chance.between(1800, 7500)) / SAMPLE_RATE);
	const high = 1 - Math.exp((-2 * Math.PI * chance.between(20, 300)) / SAMPLE_RATE);
	const tilt = chance.between(-0.4, 0.6);
	let [smooth, slow, last] = [0, 0, 0];
	return samples.map((sample) => {
		smooth += low * (sample - smooth);
		slow += high * (smooth - slow);
		const clear = smooth - slow;
		const bent = clear - tilt * last;
		last = clear;
		return bent;
	});
}
