import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ownEars } from '$lib/adapters/own-ears/own-ears';
import { serveRecogniser } from '$lib/adapters/own-ears/serve-recogniser';
import { scriptedEars } from '$lib/adapters/scripted-ears/scripted-ears';
import { EARCONS, type Tone } from '$lib/adapters/webaudio/earcons';
import type { Ears, Heard } from '$lib/ports/ears';
import type { Mouth } from '$lib/ports/mouth';
import { COMMANDS } from '$lib/run/commands';
import type { Enrolment } from '$lib/voice/enrolment';
import { readWav } from '$lib/voice/wav';
import { createListening } from './listening.svelte';

const RATE = 16000;
const wav = (name: string) => readWav(readFileSync(`tests/fixtures/voice/${name}.wav`)).samples;
const ALL = COMMANDS.flatMap((row) => row.said['en'] ?? []);

/** A mouth whose sounding is told by the test. */
function quietMouth(): Mouth & { sounding: boolean } {
	return { canSpeak: () => true, speak: () => Promise.resolve(), sound: () => undefined, silence: () => undefined, sounding: false };
}

/** The project's own ears on a microphone that plays what the test gives it, blocks of 32 ms as the worklet gives them. */
async function room() {
	const mouth = quietMouth();
	let take: (samples: Float32Array) => void = () => undefined;
	const ears = ownEars(
		{ open: (onsound) => ((take = onsound), Promise.resolve({ sampleRate: RATE, close: () => undefined })) },
		(onmessage) => ({ post: serveRecogniser((file) => Promise.resolve(new Uint8Array(readFileSync(`static/voice/${file}`))), onmessage), close: () => undefined })
	);
	const told: string[] = [];
	const listening = createListening({ ears: () => ears, mouth, enrolment: () => Promise.resolve(undefined), onheard: ({ words }) => Boolean(told.push(words)) });
	await listening.hear();
	listening.setVocabulary(ALL);
	const play = (...sounds: Float32Array[]) => {
		for (const sound of sounds) for (let at = 0; at < sound.length; at += 512) take(sound.subarray(at, at + 512));
	};
	return { mouth, listening, told, play };
}
const silence = (seconds: number) => new Float32Array(seconds * RATE);
const tones = (all: readonly Tone[]) => {
	const sound = silence(1.2);
	for (const { hz, fromMs, forMs } of all) for (let i = 0; i < (forMs * RATE) / 1000; i++) sound[Math.round((fromMs * RATE) / 1000) + i]! += 0.3 * Math.sin((2 * Math.PI * hz * i) / RATE);
	return sound;
};

describe('E12 the guide’s own voice and sounds', () => {
	it('played into the microphone give no command; a word after them does', async () => {
		const { mouth, listening, told, play } = await room();
		play(silence(1));
		mouth.sounding = true;
		play(wav('prompt'));
		mouth.sounding = false;
		play(silence(1));
		expect(told).toEqual([]);
		expect([listening.heard, listening.choices]).toEqual([null, null]);
		play(wav('next'), silence(1));
		expect(told).toEqual(['next']);
	});
	it('would be heard if the guide were not deaf to itself: the test can fail', async () => {
		const { told, play } = await room();
		play(silence(1), wav('prompt'), silence(1));
		expect(told.length).toBeGreaterThan(0);
	});
	it.each(Object.entries(EARCONS))('the sound “%s” is no word, even where its end was not known', async (_, all) => {
		const { told, play } = await room();
		for (let i = 0; i < 4; i++) play(silence(0.5), tones(all));
		expect(told).toEqual([]);
	});
});

describe('E13 what is not heard surely', () => {
	async function scripted() {
		const ears: Ears = scriptedEars();
		const told: string[] = [];
		const listening = createListening({ ears: () => ears, mouth: quietMouth(), enrolment: () => Promise.resolve(undefined), onheard: ({ words }) => Boolean(told.push(words)) });
		await listening.hear();
		// levels go on while it is quiet
		for (let i = 0; i < 10; i++) ears.onlevel?.(0.1);
		const hear = (unsure: boolean, ...words: string[]) => ears.onresult?.({ isFinal: true, unsure, alternatives: words.map((transcript, i) => ({ transcript, confidence: unsure ? 0.4 - i / 10 : 0.9 })) } satisfies Heard);
		return { listening, told, hear };
	}
	it('twice in a row it is asked with two choices, and neither is done', async () => {
		const { listening, told, hear } = await scripted();
		hear(true, 'next', 'negative');
		expect([listening.choices, listening.heard?.sure]).toEqual([null, false]);
		hear(true, 'negative', 'next', 'no');
		expect(listening.choices).toEqual(['negative', 'next']);
		expect(told).toEqual([]);
		listening.choose('next');
		expect([told, listening.choices]).toEqual([['next'], null]);
	});
	it('a sure word in between ends the row, and a sure word answers the question', async () => {
		const { listening, told, hear } = await scripted();
		hear(true, 'next', 'no');
		hear(false, 'yes');
		hear(true, 'next', 'no');
		expect(listening.choices).toBeNull();
		hear(true, 'next', 'no');
		expect(listening.choices).toEqual(['next', 'no']);
		hear(false, 'no');
		expect([told, listening.choices]).toEqual([['yes', 'no'], null]);
	});
});

it('E13. an engine that decides by itself is believed however sure it is; one that does not is believed from 50 %', async () => {
	const ears: Ears = scriptedEars();
	const told: string[] = [];
	const listening = createListening({ ears: () => ears, mouth: quietMouth(), enrolment: () => Promise.resolve(undefined), onheard: ({ words }) => Boolean(told.push(words)) });
	await listening.hear();
	for (let i = 0; i < 10; i++) ears.onlevel?.(0.1);
	const alternatives = [{ transcript: 'stop', confidence: 0.35 }];
	ears.onresult?.({ isFinal: true, alternatives });
	expect([told, listening.heard?.sure]).toEqual([[], false]);
	ears.onresult?.({ isFinal: true, unsure: false, alternatives });
	expect(told).toEqual(['stop']);
});

it('E14. words that can’t be read are told, and anyone’s are heard', async () => {
	const ears = scriptedEars();
	const told: string[] = [];
	const listening = createListening({ ears: () => ears, mouth: quietMouth(), enrolment: () => Promise.reject(new Error('no database')), onheard: ({ words }) => Boolean(told.push(words)) });
	await listening.hear();
	expect([listening.listening, listening.voice]).toEqual([true, 'unread']);
	for (let i = 0; i < 10; i++) ears.onlevel?.(0.1);
	ears.say('next');
	expect(told).toEqual(['next']);
});

it('E3. “listening” is said from when it hears, and no more once the guide was made deaf meanwhile', async () => {
	const ears = scriptedEars();
	let opened: () => void = () => undefined;
	ears.start = () => new Promise((resolve) => (opened = resolve));
	const listening = createListening({ ears: () => ears, mouth: quietMouth(), enrolment: () => Promise.resolve(undefined), onheard: () => true });
	const hearing = listening.hear();
	await new Promise((resolve) => setTimeout(resolve));
	expect(listening.listening).toBe(false);
	listening.deafen();
	opened();
	await hearing;
	expect(listening.listening).toBe(false);
});

it('E16. what somebody else said does nothing and is told as that; not surely heard, it is not even told; whether only one counts is told', async () => {
	const ears = scriptedEars();
	let enrolled: Awaited<ReturnType<Ears['enrol']>> = 'only';
	ears.enrol = () => Promise.resolve(enrolled);
	const kept: Enrolment = { person: 'Ada', model: 'ab'.repeat(32), changedAt: '2026-05-04T08:00:00Z', words: [], operatorOnly: true };
	const told: string[] = [];
	const listening = createListening({ ears: () => ears, mouth: quietMouth(), enrolment: () => Promise.resolve(kept), onheard: ({ words }) => Boolean(told.push(words)) });
	await listening.hear();
	expect(listening.voice).toBe('only');
	for (let i = 0; i < 10; i++) ears.onlevel?.(0.1);
	const hear = (unsure: boolean, transcript: string) => ears.onresult?.({ isFinal: true, unsure, foreign: true, alternatives: [{ transcript, confidence: 0.9 }, { transcript: 'no', confidence: 0.05 }] });
	for (let i = 0; i < 3; i++) hear(true, 'yes');
	expect([listening.heard, listening.choices]).toEqual([null, null]);
	hear(false, 'next');
	expect([told, listening.heard]).toEqual([[], { words: 'next', confidence: 0.9, sure: false, foreign: true }]);
	ears.say('next');
	expect([told, listening.heard?.foreign]).toEqual([['next'], undefined]);
	// the line goes away by itself, what was the operator's stays
	for (let i = 0; i < 200; i++) ears.onlevel?.(0.1);
	expect(listening.heard?.words).toBe('next');
	hear(false, 'yes');
	for (let i = 0; i < 90; i++) ears.onlevel?.(0.1);
	expect(listening.heard?.words).toBe('yes');
	for (let i = 0; i < 20; i++) ears.onlevel?.(0.1);
	expect(listening.heard).toBeNull();
	enrolled = 'used';
	await listening.hear();
	expect(listening.voice).toBe('everyone');
});
