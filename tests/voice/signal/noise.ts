/** Noise of a laboratory, made from a seed: hiss, pumps, fans, clicks, alarms. Invented spectra, no recording's. */
import type { Chance } from '../random';
import { SAMPLE_RATE } from '$lib/voice/features/mel';

export type NoiseKind = 'white' | 'pink' | 'brown' | 'pump' | 'fan' | 'clicks' | 'alarm';
export const NOISE_KINDS: readonly NoiseKind[] = ['white', 'pink', 'brown', 'pump', 'fan', 'clicks', 'alarm'];

type Source = (i: number) => number;

/** White noise made pink by Kellet's three-pole filter (P. Kellet, music-dsp list, 1999; within 0.5 dB from 9 Hz at 44.1 kHz). */
function pink(chance: Chance): Source {
	let [a, b, c] = [0, 0, 0];
	return () => {
		const white = chance.unit() * 2 - 1;
		a = 0.99765 * a + white * 0.099046;
		b = 0.963 * b + white * 0.2965164;
		c = 0.57 * c + white * 1.0526913;
		return a + b + c + white * 0.1848;
	};
}

function brown(chance: Chance): Source {
	let level = 0;
	return () => (level = 0.995 * level + (chance.unit() * 2 - 1) * 0.1);
}

/** Mains hum with harmonics, beaten by a piston, over brown noise. */
function pump(chance: Chance): Source {
	const base = chance.pick([24.5, 29.2, 49, 50, 59]) * chance.between(0.97, 1.03);
	const parts = Array.from({ length: 12 }, (_, k) => ({
		turn: (2 * Math.PI * base * (k + 1)) / SAMPLE_RATE,
		level: chance.unit() / (1 + k * 0.5),
		phase: chance.between(0, 6)
	}));
	const beat = (2 * Math.PI * chance.between(1, 14)) / SAMPLE_RATE;
	const [depth, rush] = [chance.between(0, 0.7), brown(chance)];
	return (i) => (1 + depth * Math.sin(beat * i)) * parts.reduce((sum, p) => sum + p.level * Math.sin(p.turn * i + p.phase), 0) * 0.2 + rush(i);
}

/** Pink rush with a blade tone that wanders. */
function fan(chance: Chance): Source {
	const [rush, tone, wander] = [pink(chance), chance.between(80, 700), chance.between(0.05, 0.6)];
	const level = chance.between(0, 0.5);
	let phase = 0;
	return (i) => {
		phase += (2 * Math.PI * tone * (1 + 0.03 * Math.sin((2 * Math.PI * wander * i) / SAMPLE_RATE))) / SAMPLE_RATE;
		return rush(i) + level * Math.sin(phase);
	};
}

/** Short decaying knocks, ringing each at its own pitch, at chance times. */
function clicks(chance: Chance): Source {
	const rate = chance.between(0.5, 5) / SAMPLE_RATE;
	let [level, ring, phase, decay] = [0, 0, 0, 0.99];
	return () => {
		if (chance.unit() < rate) [level, ring, phase, decay] = [chance.between(0.3, 2), chance.between(0.05, 1.5), 0, 1 - 1 / chance.between(15, 1500)];
		level *= decay;
		phase += ring;
		return level * (Math.sin(phase) + (chance.unit() - 0.5)) + (chance.unit() - 0.5) * 0.01;
	};
}

/** Beeps of one or two pitches, in a rhythm. */
function alarm(chance: Chance): Source {
	const [first, second] = [chance.between(400, 3000), chance.between(400, 3000)];
	const [on, off] = [chance.between(0.05, 0.8), chance.between(0.05, 1)];
	const square = chance.unit() < 0.4;
	return (i) => {
		const time = i / SAMPLE_RATE;
		const turn = time % (on + off);
		if (turn > on) return (chance.unit() - 0.5) * 0.01;
		const wave = Math.sin(2 * Math.PI * (Math.floor(time / (on + off)) % 2 ? second : first) * time);
		return (square ? Math.sign(wave) * 0.5 : wave) * Math.min(1, turn * 200, (on - turn) * 200);
	};
}

const sources: Readonly<Record<NoiseKind, (chance: Chance) => Source>> = {
	white: (chance) => () => chance.unit() * 2 - 1,
	pink, brown, pump, fan, clicks, alarm
};

/** So many samples of a kind, at root mean square 1. */
export function noise(kind: NoiseKind, length: number, chance: Chance): Float32Array {
	const source = sources[kind](chance);
	// filters settle within the first samples, which are thrown away
	for (let i = 0; i < 2000; i++) source(i);
	return atLevel(Float32Array.from({ length }, (_, i) => source(i)), 1);
}

export const rms = (samples: Float32Array): number =>
	Math.sqrt(samples.reduce((sum, sample) => sum + sample * sample, 0) / Math.max(1, samples.length));

/** The same sound at another root mean square; silence stays silence. */
export function atLevel(samples: Float32Array, level: number): Float32Array {
	const now = rms(samples);
	return now === 0 ? samples : samples.map((sample) => (sample * level) / now);
}
