/** What a room does to a voice. */
import type { Chance } from '../random';
import { SAMPLE_RATE } from '$lib/voice/features/mel';

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
