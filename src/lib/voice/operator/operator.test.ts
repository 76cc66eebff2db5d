import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import type { EnrolledWord } from '../enrolment';
import { SpeechFeatures } from '../features/speech-features';
import { Listener } from '../listener';
import { DamagedModel, loadModel, type LoadedModel } from '../model';
import { takeIn } from '../take';
import { readWav } from '../wav';
import { added } from './eigenvoices';
import { lastWord } from './last-word';
import { compared, OperatorCheck, operatorVoice, tellsVoice, voicesOf, weighed } from './operator-check';
import { heardVoice, rowsOf } from './take-voice';
import { type LoadedVoices, loadVoices, VOICES_LIST } from './voices';

const RATE = 16000;
const OPEN = ['next', 'yes', 'no', 'stop'];
const shipped = (file: string) => Promise.resolve(new Uint8Array(readFileSync(`static/voice/${file}`)));
const wav = (name: string) => readWav(readFileSync(`tests/fixtures/voice/${name}.wav`)).samples;
const silence = (seconds: number) => new Float32Array(seconds * RATE);
const joined = (...parts: Float32Array[]) => Float32Array.from(parts.flatMap((part) => [...part]));
const louder = (sound: Float32Array, db: number) => sound.map((x) => x * 10 ** (db / 20));
const hiss = (length: number, gain: number) => {
	let state = 7;
	return Float32Array.from({ length }, () => ((state = (Math.imul(state, 1664525) + 1013904223) >>> 0), gain * (state / 2 ** 31 - 1)));
};
const tone = (seconds: number, hz: (t: number) => number) => {
	let phase = 0;
	return Float32Array.from({ length: seconds * RATE }, (_, i) => 0.3 * Math.sin((phase += (2 * Math.PI * hz(i / RATE)) / RATE)));
};

let model: LoadedModel;
let voices: LoadedVoices;
let features: SpeechFeatures;
let operator: readonly EnrolledWord[];
let neighbour: readonly EnrolledWord[];

/** Three takes, each a little louder or softer. */
function said(word: string, name: string): EnrolledWord {
	return { word, takes: [0, -1, 1].map((db) => takeIn(features, louder(wav(name), db), voices.eigenvoices)) };
}

beforeAll(async () => {
	[model, voices] = await Promise.all([loadModel(shipped), loadVoices(shipped)]);
	features = new SpeechFeatures(model.embedding);
	operator = ['four', 'no', 'trouble', 'yes', 'answer one', 'booking ends at', 'send it'].map((word) => said(word, word.replaceAll(' ', '-')));
	neighbour = [said('next', 'neighbour-next'), said('yes', 'neighbour-yes'), said('stop', 'neighbour-stop')];
}, 60_000);

const checkOf = (words: readonly EnrolledWord[]) => new OperatorCheck(voices.eigenvoices, voices.weighing, words);
/** Words told, and those passed over in brackets, by a listener to whom all words were said by `words`' operator. */
function heard(sound: Float32Array, words: readonly EnrolledWord[], step = 512): string[] {
	const listener = new Listener(model);
	listener.setOpen(OPEN);
	listener.listenOnlyTo(checkOf(words));
	const all: string[] = [];
	for (let at = 0; at < sound.length; at += step) {
		listener.push(sound.subarray(at, at + step), (one) => void all.push(one.unsure ? '?' : one.word), (one) => void (one.unsure || all.push(`(${one.word})`)));
	}
	return all;
}

describe('V10 listening to the operator only', () => {
	it('tells the operator’s words, also those that were never enrolled, and passes over a neighbour’s', () => {
		const sound = joined(silence(1), wav('next'), silence(1), wav('neighbour-next'), silence(1), wav('yes'), silence(1), wav('neighbour-yes'), silence(1));
		expect(heard(sound, operator)).toEqual(['next', '(next)', 'yes', '(yes)']);
		// the other way round: it is the voice, not the recording
		expect(heard(joined(silence(1), wav('yes'), silence(1), wav('neighbour-yes'), silence(1)), neighbour)).toEqual(['(yes)', 'yes']);
	});
	it('hears the same however the sound is cut into blocks', () => {
		const sound = joined(silence(1), wav('neighbour-next'), silence(1), wav('next'), silence(1));
		expect(heard(sound, operator, sound.length)).toEqual(heard(sound, operator, 441));
	});
	it('a word as loud as the takes, or louder, is likelier the operator’s than one from across the room', () => {
		const person = operatorVoice(voices.eigenvoices, voicesOf(operator, voices.eigenvoices.mark));
		const oddsAt = (db: number) => {
			const word = heardVoice(rowsOf(joined(silence(1), louder(wav('next'), db), silence(0.3))))!;
			return weighed(compared(person, { ...word, evidence: voices.eigenvoices.of(word.cepstra) }), voices.weighing);
		};
		const [louderYet, asLoud, away, far] = [oddsAt(3), oddsAt(0), oddsAt(-12), oddsAt(-18)];
		expect(asLoud - away).toBeGreaterThan(1);
		expect(away - far).toBeGreaterThan(0.5);
		expect(Math.abs(louderYet - asLoud)).toBeLessThan(1);
	});
	it('“stop” counts whoever says it', () => {
		expect(heard(joined(silence(1), wav('neighbour-stop'), silence(1), wav('stop'), silence(1)), operator)).toEqual(['stop', 'stop']);
	});
	it('everyone’s words count without it, and again once it is taken away', () => {
		const listener = new Listener(model);
		listener.setOpen(OPEN);
		const words: string[] = [];
		const say = () => listener.push(joined(silence(1), wav('neighbour-next'), silence(1)), (one) => void (one.unsure || words.push(one.word)));
		say();
		listener.listenOnlyTo(checkOf(operator));
		say();
		listener.listenOnlyTo(null);
		say();
		expect(words).toEqual(['next', 'next']);
	});
	it('what is silent, a knock, or too short is nobody’s', () => {
		const nobody = (sound: Float32Array) => {
			const check = checkOf(operator);
			check.push(sound);
			return check.isOperator();
		};
		expect(nobody(new Float32Array(0))).toBe(false);
		expect(nobody(silence(2))).toBe(false);
		expect(nobody(joined(silence(1), tone(0.04, () => 300), silence(0.3)))).toBe(false);
		expect(nobody(joined(silence(1), wav('next'), silence(0.2)))).toBe(true);
		// long ago
		expect(nobody(joined(wav('next'), silence(2.4)))).toBe(false);
	});
	it('too few takes, or takes that tell nothing of a voice, are refused with a sentence', () => {
		const older = operator.map(({ word, takes }) => ({ word, takes: takes.map(({ clean, noisy }) => ({ clean, noisy })) }));
		const foreign = operator.map(({ word, takes }) => ({ word, takes: takes.map((one) => ({ ...one, voice: { ...one.voice!, of: 'x' } })) }));
		const mark = voices.eigenvoices.mark;
		expect([operator, operator.slice(0, 2), older, foreign].map((words) => tellsVoice(words, mark))).toEqual([true, false, false, false]);
		expect(() => checkOf(operator.slice(0, 2))).toThrow('6 takes tell whose voice it is; expected at least 9');
		expect(() => checkOf(older)).toThrow(RangeError);
	});
	it('a take keeps no more than its numbers of the voice', () => {
		const voice = operator[0]!.takes[0]!.voice!;
		expect(Object.keys(voice)).toEqual(['of', 'evidence', 'levelDb', 'pitch']);
		expect(voice.evidence).toHaveLength(92);
	});
});

describe('what the check sees', () => {
	it('pitch by its period, in noise too', () => {
		const glide = tone(1, (t) => 100 + 100 * t);
		const noise = hiss(RATE, 0.05);
		const rows = rowsOf(glide.map((x, i) => x + noise[i]!));
		// the window is centred 35 ms before its row ends
		for (const at of [30, 60, 90]) {
			expect(2 ** rows[at]!.pitch).toBeCloseTo(100 + 100 * (at / 100 - 0.02), -1);
			expect(rows[at]!.voicing).toBeGreaterThan(0.9);
		}
		expect(rowsOf(hiss(RATE, 0.3))[50]!.voicing).toBeLessThan(0.6);
	});
	it('the last word of several, and its level without the room’s', () => {
		const room = hiss(3 * RATE, 0.01);
		const sound = joined(silence(0.5), tone(0.5, () => 150), silence(0.6), louder(tone(0.4, () => 220), -6), silence(1)).map((x, i) => x + room[i]!);
		const word = lastWord(rowsOf(sound.subarray(0, 2.2 * RATE)).slice(-250))!;
		expect(word.rows.length).toBeGreaterThan(36);
		expect(word.rows.length).toBeLessThan(46);
		// 0.3 / √2 is 13.5 dB below full scale
		expect(word.levelDb).toBeCloseTo(-19.5, 0);
	});
	it('the same evidence twice is likelier from the same person; two people’s is not', () => {
		const evidence = (words: readonly EnrolledWord[]) => added(words.flatMap(({ takes }) => takes.map(({ voice }) => ({ counts: Float64Array.from(Array.from(voice!.evidence).slice(0, 32)), pull: Float64Array.from(Array.from(voice!.evidence).slice(32)) }))));
		const against = voices.eigenvoices.against(evidence(operator));
		expect(against(evidence(operator.slice(0, 1)))).toBeGreaterThan(0);
		expect(against(evidence(neighbour))).toBeLessThan(0);
	});
});

describe('the shipped file of voices', () => {
	it('with one bit changed is refused with its name; so is a list of another version', async () => {
		const damaged = async (name: string) => {
			const bytes = await shipped(name);
			if (name === 'voices.f16') bytes[1000] = bytes[1000]! ^ 1;
			return bytes;
		};
		await expect(loadVoices(damaged)).rejects.toThrow(DamagedModel);
		await expect(loadVoices(damaged)).rejects.toThrow('voices.f16 is damaged');
		const other = async (name: string) => (name === VOICES_LIST ? new TextEncoder().encode('{"version":2}') : shipped(name));
		await expect(loadVoices(other)).rejects.toThrow('version 2, expected 1');
	});
});
