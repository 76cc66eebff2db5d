/** What the bench listens to: each recording once in each condition, strings of digits, talk, noise. */
import { SAMPLE_RATE } from '$lib/voice/features/mel';
import { chanceFrom } from '../random';
import { load, talkRecordings, wordRecordings, type Recording } from '../recordings';
import { trimmed } from '../scenes';
import { atLevel, noise, NOISE_KINDS, rms } from '../signal/noise';

export type Condition = 'clean' | '10 dB' | '5 dB';
export const CONDITIONS: readonly Condition[] = ['clean', '10 dB', '5 dB'];

export interface Trial {
	readonly kind: 'word' | 'string' | 'talk' | 'noise';
	readonly source: Recording['source'] | 'synthetic';
	readonly condition: Condition;
	/** Words of the vocabulary said. */
	readonly words: readonly string[];
	/** The word of a single-word recording, in the vocabulary or not. */
	readonly word: string;
	readonly speaker: string;
	readonly fold: number;
	/** Its number among the recordings of the same speaker and word, for enrolment. */
	readonly path: string;
	/** Where the last word's recording ends, in seconds from the start. */
	readonly endS: number;
	sound(): Float32Array;
}

const seconds = (s: number) => new Float32Array(Math.round(s * SAMPLE_RATE));

export function joined(parts: readonly Float32Array[]): Float32Array {
	const out = new Float32Array(parts.reduce((sum, part) => sum + part.length, 0));
	let at = 0;
	for (const part of parts) {
		out.set(part, at);
		at += part.length;
	}
	return out;
}

/** Pink noise over the whole sound, so far below the speech's root mean square (of `speech`, as recorded). */
function inNoise(sound: Float32Array, speech: Float32Array, condition: Condition, seed: string): Float32Array {
	if (condition === 'clean') return sound;
	const below = condition === '10 dB' ? 10 : 5;
	const hiss = atLevel(noise('pink', sound.length, chanceFrom('bench', seed)), rms(speech) * 10 ** (-below / 20));
	return sound.map((sample, i) => Math.max(-1, Math.min(1, sample + hiss[i]!)));
}

/** FSDD's clips are cut tight and get half a second before and 0.7 s after; the others are as they are. */
function wordTrial(r: Recording, condition: Condition): Trial {
	const pad = r.source === 'fsdd' ? 0.5 : 0;
	const part = { kind: 'word' as const, source: r.source, condition, words: r.words, word: r.word, speaker: r.speaker, fold: r.fold, path: r.path };
	const make = () => {
		const speech = load(r);
		return inNoise(pad ? joined([seconds(pad), speech, seconds(0.7)]) : speech, speech, condition, r.path);
	};
	return { ...part, sound: make, endS: r.source === 'fsdd' ? pad + load(r).length / SAMPLE_RATE : NaN };
}

const STRINGS_EACH = 60;

/** Strings of 3 to 5 digits of one FSDD speaker, 0.1 to 0.35 s apart. */
function stringTrials(words: readonly Recording[], condition: Condition): Trial[] {
	return ['george', 'jackson', 'lucas'].flatMap((speaker) => {
		const digits = words.filter((r) => r.source === 'fsdd' && r.speaker === speaker);
		return Array.from({ length: STRINGS_EACH }, (_, i): Trial => {
			const chance = chanceFrom('string', speaker, i);
			const picked = Array.from({ length: 3 + chance.below(3) }, () => chance.pick(digits));
			const gaps = picked.map(() => chance.between(0.1, 0.35));
			const make = () => {
				const spoken = picked.map((r) => trimmed(load(r)));
				const all = joined([seconds(0.5), ...spoken.flatMap((one, k) => [one, seconds(k < spoken.length - 1 ? gaps[k]! : 0.7)])]);
				return inNoise(all, joined(spoken), condition, `${speaker} ${i}`);
			};
			return {
				kind: 'string', source: 'fsdd', condition, words: picked.map((r) => r.word), word: '', speaker, fold: picked[0]!.fold,
				path: `${speaker} ${i}`, endS: NaN, sound: make
			};
		});
	});
}

const NOISE_MINUTES = 1;

/** Made noise, a minute each, every kind in turn. */
function noiseTrials(minutes: number): Trial[] {
	return Array.from({ length: minutes }, (_, i): Trial => {
		const kind = NOISE_KINDS[i % NOISE_KINDS.length]!;
		const chance = chanceFrom('noise trial', i);
		const level = 10 ** (chance.between(-45, -12) / 20);
		return {
			kind: 'noise', source: 'synthetic', condition: 'clean', words: [], word: kind, speaker: `${kind} ${i}`, fold: i % 5, path: `${kind} ${i}`, endS: NaN,
			sound: () => atLevel(noise(kind, NOISE_MINUTES * 60 * SAMPLE_RATE, chance), level).map((x) => Math.max(-1, Math.min(1, x)))
		};
	});
}

export function trials(data: string, noiseMinutes: number): Trial[] {
	const words = wordRecordings(data);
	const spoken = words.filter((r) => r.source !== 'noise');
	return [
		...CONDITIONS.flatMap((condition) => spoken.map((r) => wordTrial(r, condition))),
		...(['clean', '10 dB'] as const).flatMap((condition) => stringTrials(words, condition)),
		...talkRecordings(data).map((r): Trial => ({ kind: 'talk', source: r.source, condition: 'clean', words: [], word: '', speaker: r.speaker, fold: r.fold, path: `${r.path} ${r.part![0]}`, endS: NaN, sound: () => load(r) })),
		...words.filter((r) => r.source === 'noise').map((r): Trial => ({ kind: 'noise', source: 'noise', condition: 'clean', words: [], word: 'recorded', speaker: r.speaker, fold: r.fold, path: r.path, endS: NaN, sound: () => load(r) })),
		...noiseTrials(noiseMinutes)
	];
}
