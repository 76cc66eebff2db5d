import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import type { EnrolledWord } from './enrolment';
import { SpeechFeatures } from './features/speech-features';
import { Listener } from './listener';
import { loadModel, type LoadedModel } from './model';
import { takeIn } from './take';
import { takeDistance } from './take-matcher';
import { readWav } from './wav';
import { verdictOf, WordEndFinder, type WordEnds } from './word-ends';

const RATE = 16000;
const wav = (name: string) => readWav(readFileSync(`tests/fixtures/voice/${name}.wav`)).samples;
let model: LoadedModel;
let features: SpeechFeatures;

beforeAll(async () => {
	model = await loadModel((file) => Promise.resolve(new Uint8Array(readFileSync(`static/voice/${file}`))));
	features = new SpeechFeatures(model.embedding);
});

/** A word said a little differently: slower by resampling, and softer. */
function again(samples: Float32Array, stretch: number, gain: number): Float32Array {
	return Float32Array.from({ length: Math.floor(samples.length * stretch) }, (_, i) => {
		const at = i / stretch;
		const [low, share] = [Math.floor(at), at % 1];
		return gain * ((samples[low] ?? 0) * (1 - share) + (samples[low + 1] ?? 0) * share);
	});
}
const joined = (...parts: Float32Array[]) => Float32Array.from(parts.flatMap((part) => [...part]));
const silence = (seconds: number) => new Float32Array(seconds * RATE);
const hiss = (length: number, gain: number) => {
	let state = 7;
	return Float32Array.from({ length }, () => ((state = (Math.imul(state, 1664525) + 1013904223) >>> 0), gain * (state / 2 ** 31 - 1)));
};

function heard(listener: Listener, sound: Float32Array): string[] {
	const words: string[] = [];
	listener.reset();
	listener.push(sound, (hearing) => words.push(hearing.unsure ? `?${hearing.alternatives[0]!.word}` : hearing.word));
	return words;
}
const threeOf = (word: string, name: string): EnrolledWord => ({ word, takes: [1, 0.94, 1.07].map((stretch) => takeIn(features, again(wav(name), stretch, 0.8))) });

describe('an operator’s own words', () => {
	it('V4. any sound stands for a word once it was said three times, and what was trained goes on beside it', () => {
		const listener = new Listener(model);
		// "trouble" backwards: speech that is no word of the head's
		const foreign = wav('trouble').slice().reverse();
		const takes = [1, 0.95, 1.06].map((stretch) => takeIn(features, again(foreign, stretch, 0.9)));
		listener.setOpen(['next', 'stop', 'yes']);
		const said = joined(silence(1), again(foreign, 1.03, 0.5), silence(1), wav('yes'), silence(1));
		expect(heard(listener, said)).not.toContain('next');
		listener.enrol([{ word: 'next', takes }]);
		expect(heard(listener, said)).toEqual(['next', 'yes']);
		listener.enrol([{ word: 'next', takes: takes.slice(0, 2) }]);
		expect(heard(listener, said)).not.toContain('next');
	});
	it('V4. it is heard in noise 10 dB below it as well', () => {
		const listener = new Listener(model);
		listener.setOpen(['next', 'stop']);
		listener.enrol([threeOf('next', 'four')]);
		const word = again(wav('four'), 1.02, 0.9);
		const loudness = Math.sqrt(word.reduce((sum, x) => sum + x * x, 0) / word.length);
		const said = joined(silence(1), word, silence(1));
		const noise = hiss(said.length, loudness * 10 ** -0.5 * Math.sqrt(3));
		expect(heard(listener, said.map((x, i) => x + noise[i]!))).toEqual(['next']);
	});
	it('V5. a word is told once, and not while it is not open', () => {
		const listener = new Listener(model);
		listener.enrol([threeOf('next', 'next'), threeOf('four', 'four')]);
		const said = joined(silence(0.8), wav('next'), silence(0.7), wav('four'), silence(0.7), wav('next'), silence(1));
		listener.setOpen(['next', 'stop']);
		expect(heard(listener, said)).toEqual(['next', 'next']);
		listener.setOpen(['next', 'four']);
		expect(heard(listener, said)).toEqual(['next', 'four', 'next']);
	});
	it('V6. takes of one word lie nearer than those of two', () => {
		const [four, yes] = [threeOf('four', 'four').takes, threeOf('yes', 'yes').takes];
		expect(takeDistance(four[0]!.clean, four[1]!.clean)).toBeLessThan(0.5 * takeDistance(four[0]!.clean, yes[0]!.clean));
		expect(takeDistance(four[0]!.clean, four[0]!.clean)).toBeCloseTo(0, 5);
	});
});

describe('where a word begins and ends', () => {
	const found = (sound: Float32Array): WordEnds[] => {
		const words: WordEnds[] = [];
		const finder = new WordEndFinder();
		// odd blocks, as they come
		for (let at = 0; at < sound.length; at += 441) finder.push(sound.subarray(at, at + 441), (word) => words.push(word));
		return words;
	};
	const tone = (seconds: number, gain: number) => Float32Array.from({ length: seconds * RATE }, (_, i) => gain * Math.sin(i * 0.2));

	it('V7. is told to 40 ms, once each', () => {
		const words = found(joined(hiss(RATE, 0.001), tone(0.5, 0.2), hiss(RATE, 0.001), tone(0.3, 0.2), hiss(RATE, 0.001)));
		expect(words).toHaveLength(2);
		expect(Math.abs(words[0]!.from - RATE)).toBeLessThan(0.04 * RATE);
		expect(Math.abs(words[0]!.to - 1.5 * RATE)).toBeLessThan(0.04 * RATE);
		expect(words.map(verdictOf)).toEqual(['good', 'good']);
	});
	it('V7. a knock is no word; a word in two parts is one', () => {
		expect(found(joined(hiss(RATE, 0.001), tone(0.05, 0.4), hiss(RATE, 0.001)))).toEqual([]);
		expect(found(joined(hiss(RATE, 0.001), tone(0.2, 0.2), hiss(0.2 * RATE, 0.001), tone(0.2, 0.2), hiss(RATE, 0.001)))).toHaveLength(1);
	});
	it.each([
		['too quiet', 0.0008, 0.004],
		['too noisy', 0.03, 0.08],
		['too loud', 0.001, 1]
	] as const)('V8. says that it is %s', (verdict, room, gain) => {
		const words = found(joined(hiss(2 * RATE, room), tone(0.5, gain), hiss(RATE, room)));
		expect(words.map(verdictOf)).toEqual([verdict]);
	});
	it('V8. says that it goes on for too long, and learns a room that has become louder', () => {
		const words = found(joined(hiss(RATE, 0.001), hiss(4 * RATE, 0.05), tone(0.4, 0.6), hiss(RATE, 0.05)));
		expect(words.map(verdictOf)).toEqual(['too long', 'good']);
	});
});
