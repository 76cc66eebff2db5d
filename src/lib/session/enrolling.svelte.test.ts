import { describe, expect, it } from 'vitest';
import { memoryEnrolments } from '$lib/adapters/enrolments/memory-enrolments';
import type { TakeHeard, Takes } from '$lib/ports/takes';
import type { Enrolment, Take } from '$lib/voice/enrolment';
import { EMBEDDING_SIZE } from '$lib/voice/features/embedding';
import { TAKE_VOICE_NUMBERS } from '$lib/voice/operator/take-voice';
import { createEnrolling } from './enrolling.svelte';
import { toEnrolmentFile } from './enrolment-file';
import { openTogether } from './enrolment-plan';

const MARK = 'ab'.repeat(32);
const VOICES = 'ef'.repeat(32);

/** A take of an invented word: a direction of its own, a little off by `nth`. */
function take(word: number, nth = 0): Take {
	const numbers = Float32Array.from({ length: 6 * EMBEDDING_SIZE }, (_, i) => 400 * Math.cos(i * (word + 1) * 0.37) + nth * Math.sin(i));
	return { clean: numbers, noisy: numbers, voice: { of: VOICES, evidence: new Float32Array(TAKE_VOICE_NUMBERS), levelDb: -20, pitch: 7 } };
}

function bench({ kept, mark = MARK, voices = VOICES }: { kept?: Enrolment; mark?: string | null; voices?: string | null } = {}) {
	const takes: Takes = {
		onlevel: null,
		ontake: null,
		onerror: null,
		mark: () => Promise.resolve(mark),
		voices: () => Promise.resolve(voices),
		start: () => Promise.resolve(mark),
		stop: () => undefined
	};
	const enrolments = memoryEnrolments();
	const enrolling = createEnrolling({ takes, enrolments, clock: { now: () => ({ at: '2026-05-04T08:00:00.000+02:00', mono: 0, boot: 'b' }) }, person: 'Ada', kept });
	const say = (word: number, nth = 0) => takes.ontake!({ verdict: 'good', heard: [{ word: 'four', confidence: 0.9 }], take: take(word, nth) });
	const hear = (heard: TakeHeard) => takes.ontake!(heard);
	const saved = async () => (await enrolments.load('Ada'))?.words.map(({ word, takes: all }) => `${word} ${all.length}`);
	return { enrolling, enrolments, takes, say, hear, saved };
}
const settled = () => new Promise((resolve) => setTimeout(resolve, 0));

describe('E11 an operator says the words', () => {
	it('each three times, in order; a word is kept at once, so that it can be left and gone on with', async () => {
		const { enrolling, say, saved } = bench();
		await enrolling.begin(['next', 'stop', 'yes']);
		expect(enrolling.asked?.word).toBe('next');
		for (let nth = 0; nth < 3; nth++) say(1, nth);
		expect(enrolling.asked?.word).toBe('stop');
		expect([enrolling.place, enrolling.of, enrolling.takesLeft]).toEqual([2, 3, 6]);
		say(2);
		enrolling.pause();
		expect(enrolling.asked).toBeNull();
		await settled();
		expect(await saved()).toEqual(['next 3']);
		await enrolling.begin(['next', 'stop', 'yes']);
		expect([enrolling.asked?.word, enrolling.of]).toEqual(['stop', 2]);
		enrolling.skip();
		expect(enrolling.asked?.word).toBe('yes');
		for (let nth = 0; nth < 3; nth++) say(3, nth);
		expect(enrolling.asked).toBeNull();
		await settled();
		expect(await saved()).toEqual(['next 3', 'yes 3']);
	});
	it('a sound that was not good does not count and is told; so is one that is not like those before', async () => {
		const { enrolling, say, hear } = bench();
		await enrolling.begin(['next']);
		hear({ verdict: 'too quiet', heard: [] });
		expect(enrolling.last).toMatchObject({ verdict: 'too quiet', heard: null });
		say(1);
		say(2);
		expect(enrolling.last).toMatchObject({ verdict: 'unlike', heard: 'four' });
		expect(enrolling.asked?.takes).toHaveLength(1);
		enrolling.again();
		expect(enrolling.asked?.takes).toHaveLength(0);
		say(2);
		expect(enrolling.asked?.takes).toHaveLength(1);
	});
	it('a word too much like another that can be open at the same time is told, and kept only if that is wanted', async () => {
		const { enrolling, say, saved } = bench();
		await enrolling.begin(['next', 'stop']);
		for (let nth = 0; nth < 6; nth++) say(1, nth);
		expect(enrolling.alike?.word.word).toBe('stop');
		expect(enrolling.alike?.others.map(({ word }) => word)).toEqual(['next']);
		await settled();
		expect(await saved()).toEqual(['next 3']);
		enrolling.settle(false);
		expect(enrolling.asked?.word).toBe('stop');
		for (let nth = 0; nth < 3; nth++) say(1, nth);
		enrolling.settle(true);
		await settled();
		expect(await saved()).toEqual(['next 3', 'stop 3']);
	});
	it('“next” and a digit are never open together, “next” and “stop” are', () => {
		expect([openTogether('next', 'nine'), openTogether('next', 'stop'), openTogether('four', 'five')]).toEqual([false, true, true]);
	});
	it('another word for a command stands beside the command’s own', async () => {
		const { enrolling, say, saved } = bench();
		await enrolling.say('next');
		for (let nth = 0; nth < 3; nth++) say(1, nth);
		await enrolling.say('next', 'weiter');
		expect(enrolling.asked).toMatchObject({ word: 'next', said: 'weiter' });
		for (let nth = 0; nth < 3; nth++) say(2, nth);
		await settled();
		expect(await saved()).toEqual(['next 3', 'next 3']);
		expect(enrolling.words.map(({ said }) => said)).toEqual([undefined, 'weiter']);
		// said anew it takes its own place only
		await enrolling.say('next', 'weiter');
		for (let nth = 0; nth < 3; nth++) say(3, nth);
		expect(enrolling.words).toHaveLength(2);
	});
	it('what is taken away can be brought back', async () => {
		const { enrolling, say, saved } = bench();
		await enrolling.begin(['next', 'stop']);
		for (let nth = 0; nth < 3; nth++) say(1, nth);
		for (let nth = 0; nth < 3; nth++) say(2, nth);
		enrolling.remove(enrolling.words[0]!);
		await settled();
		expect(await saved()).toEqual(['stop 3']);
		enrolling.undo();
		enrolling.removeAll();
		await settled();
		expect(await saved()).toBeUndefined();
		enrolling.undo();
		await settled();
		expect(await saved()).toEqual(['next 3', 'stop 3']);
	});
	it('takes of another network are told, asked for again, and not mixed with new ones', async () => {
		const old: Enrolment = { person: 'Ada', model: 'cd'.repeat(32), changedAt: '2026-01-01T08:00:00.000+01:00', words: ['next', 'stop'].map((word, i) => ({ word, takes: [take(i), take(i), take(i)] })) };
		const { enrolling, say, saved } = bench({ kept: old });
		await settled();
		expect(enrolling.older).toBe(true);
		await enrolling.begin(['next', 'stop']);
		expect(enrolling.of).toBe(2);
		for (let nth = 0; nth < 3; nth++) say(5, nth);
		await settled();
		expect(await saved()).toEqual(['next 3']);
		expect(enrolling.older).toBe(false);
	});
	it('a microphone that is denied is told, and nothing is asked for', async () => {
		const { enrolling, takes } = bench();
		takes.start = () => {
			takes.onerror!({ error: 'not-allowed', message: 'no' });
			return Promise.resolve(null);
		};
		await enrolling.begin(['next']);
		expect([enrolling.problem, enrolling.asked]).toEqual(['not-allowed', null]);
	});
});

describe('E16 only the operator’s words are to count', () => {
	const words = (count: number, change: (one: Take) => Take = (one) => one): Enrolment => ({
		person: 'Ada', model: MARK, changedAt: '2026-01-01T08:00:00.000+01:00',
		words: ['next', 'stop', 'yes', 'no'].slice(0, count).map((word, i) => ({ word, takes: [change(take(i)), change(take(i)), change(take(i))] }))
	});
	const withoutVoice = ({ clean, noisy }: Take): Take => ({ clean, noisy });
	const ofOtherVoices = (one: Take): Take => ({ ...one, voice: { ...one.voice!, of: 'cd'.repeat(32) } });

	it('can be chosen once the takes tell enough of the voice; what is missing is told', async () => {
		const can = async (given: Parameters<typeof bench>[0]) => {
			const { enrolling } = bench(given);
			expect(enrolling.canBeOnly).toBeNull();
			await settled();
			return enrolling.canBeOnly;
		};
		expect(await can({ kept: words(3) })).toBe('yes');
		expect(await can({ kept: words(2) })).toBe('more');
		expect(await can({})).toBe('more');
		expect(await can({ kept: words(4, withoutVoice) })).toBe('again');
		expect(await can({ kept: words(4, ofOtherVoices) })).toBe('again');
		expect(await can({ kept: words(3), voices: null })).toBe('unable');
	});
	it('is off, is kept, outlives new words, and can be taken back', async () => {
		const { enrolling, enrolments, say } = bench({ kept: words(3) });
		await settled();
		const kept = async () => (await enrolments.load('Ada'))?.operatorOnly;
		expect(enrolling.operatorOnly).toBe(false);
		enrolling.listenOnly(true);
		await settled();
		expect([enrolling.operatorOnly, await kept()]).toEqual([true, true]);
		await enrolling.begin(['no']);
		for (let nth = 0; nth < 3; nth++) say(9, nth);
		await settled();
		expect([enrolling.words.length, await kept()]).toEqual([4, true]);
		enrolling.listenOnly(false);
		await settled();
		expect([enrolling.operatorOnly, await kept()]).toEqual([false, undefined]);
	});
	it('is not brought in from a file: another device has another microphone', async () => {
		const { enrolling } = bench({ kept: { ...words(3), operatorOnly: true } });
		await settled();
		const file = new TextEncoder().encode(toEnrolmentFile(enrolling.enrolment!)).buffer;
		enrolling.bring(file);
		expect([enrolling.operatorOnly, enrolling.canBeOnly]).toEqual([false, 'yes']);
		enrolling.undo();
		expect(enrolling.operatorOnly).toBe(true);
	});
	it('does nothing where no word is kept', async () => {
		const { enrolling, enrolments } = bench();
		enrolling.listenOnly(true);
		await settled();
		expect([enrolling.operatorOnly, await enrolments.load('Ada')]).toEqual([false, undefined]);
	});
});
