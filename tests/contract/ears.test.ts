import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { ownEars } from '$lib/adapters/own-ears/own-ears';
import { serveRecogniser } from '$lib/adapters/own-ears/serve-recogniser';
import type { ToRecogniser } from '$lib/adapters/own-ears/messages';
import { scriptedEars } from '$lib/adapters/scripted-ears/scripted-ears';
import { type RecognitionClass, webSpeechEars } from '$lib/adapters/webspeech/web-speech-ears';
import type { Ears, EarsError, Heard } from '$lib/ports/ears';
import { type Microphone, MicrophoneFault } from '$lib/ports/microphone';
import type { Enrolment } from '$lib/voice/enrolment';
import { SpeechFeatures } from '$lib/voice/features/speech-features';
import { loadModel } from '$lib/voice/model';
import { takeIn } from '$lib/voice/take';
import { loadVoices } from '$lib/voice/operator/voices';
import { readWav } from '$lib/voice/wav';

/** One engine with a hand on its world: `say` has a person say a word, `lose` takes the microphone away. */
interface Bench {
	readonly ears: Ears;
	say(word: string): Promise<void>;
	lose(): void;
}

const shipped = async (file: string) => new Uint8Array(await readFile(`static/voice/${file}`));
const sound = async (word: string) => readWav(await readFile(`tests/fixtures/voice/${word.replaceAll(' ', '-')}.wav`)).samples;

function ownBench(read = shipped, fault?: MicrophoneFault): Bench {
	let take: ((samples: Float32Array) => void) | null = null;
	let lost: () => void = () => undefined;
	const microphone: Microphone = {
		open(onsound, onlost) {
			if (fault) return Promise.reject(fault);
			[take, lost] = [onsound, onlost];
			return Promise.resolve({ sampleRate: 16000, close: () => void (take = null) });
		}
	};
	const ears = ownEars(microphone, (onmessage) => {
		const serve = serveRecogniser(read, onmessage);
		return { post: (message: ToRecogniser) => serve(message), close: () => undefined };
	});
	return {
		ears,
		async say(word) {
			const said = await sound(word);
			// odd blocks, as a device gives them
			for (const part of [said, new Float32Array(16000)]) for (let at = 0; at < part.length; at += 441) take?.(part.subarray(at, at + 441));
		},
		lose: () => lost()
	};
}

/** The browser's engine, as the W3C interface shows it. */
function webBench(): Bench {
	let live: { onresult: ((event: unknown) => void) | null; onerror: ((event: unknown) => void) | null; onend: (() => void) | null } | null = null;
	class Recognition extends EventTarget {
		onresult = null;
		onerror = null;
		onend: (() => void) | null = null;
		start() {
			live = this as never;
		}
		abort() {
			live = null;
			this.onend?.();
		}
		static available = () => Promise.resolve('available');
	}
	const ears = webSpeechEars({ SpeechRecognition: Recognition as unknown as RecognitionClass }, 'en-US')!;
	return {
		ears,
		say: (word) => Promise.resolve(live?.onresult?.({ resultIndex: 0, results: [Object.assign([{ transcript: word, confidence: 0.9 }], { isFinal: true })] })),
		lose: () => live?.onerror?.({ error: 'audio-capture', message: 'gone' })
	};
}

function scriptedBench(): Bench {
	const ears = scriptedEars();
	return { ears, say: (word) => Promise.resolve(void ears.say(word)), lose: () => ears.onerror?.({ error: 'audio-capture', message: 'gone' }) };
}

function watched({ ears }: Bench) {
	const heard: Heard[] = [];
	const errors: EarsError[] = [];
	ears.onresult = (one) => heard.push(one);
	ears.onerror = (one) => errors.push(one);
	return { heard, errors, words: () => heard.map(({ alternatives }) => alternatives[0]!.transcript) };
}

describe.each([['own', ownBench], ['browser', webBench], ['scripted', scriptedBench]] as const)('every engine: %s', (_, make) => {
	it('E1. can work here', async () => expect(await make().ears.available()).toBe('available'));
	it('E2. hears a word once started, best alternative first, with a confidence from 0 to 1', async () => {
		const bench = make();
		const seen = watched(bench);
		bench.ears.setVocabulary(['next', 'yes']);
		await bench.ears.start();
		await bench.say('next');
		expect(seen.words()).toEqual(['next']);
		expect(seen.heard[0]!.isFinal).toBe(true);
		expect(seen.heard[0]!.alternatives[0]!.confidence).toBeGreaterThan(0.5);
		expect(seen.heard[0]!.alternatives[0]!.confidence).toBeLessThanOrEqual(1);
	});
	it('E3. is deaf before start and after stop', async () => {
		const bench = make();
		const seen = watched(bench);
		await bench.say('next');
		await bench.ears.start();
		bench.ears.stop();
		await bench.say('next');
		expect(seen.words()).toEqual([]);
	});
	it('E4. hears again after stop and start', async () => {
		const bench = make();
		const seen = watched(bench);
		bench.ears.setVocabulary(['next', 'yes']);
		await bench.ears.start();
		bench.ears.stop();
		await bench.ears.start();
		await bench.say('yes');
		expect(seen.words()).toEqual(['yes']);
	});
	it('E5. tells that the microphone is gone', async () => {
		const bench = make();
		const seen = watched(bench);
		await bench.ears.start();
		bench.lose();
		expect(seen.errors.map(({ error }) => error)).toEqual(['audio-capture']);
	});
});

describe("the project's own", () => {
	it('E6. decides on no word that is not open, and takes words of a procedure that it was not taught', async () => {
		const bench = ownBench();
		const seen = watched(bench);
		bench.ears.setVocabulary(['in the middle', 'yes']);
		await bench.ears.start();
		await bench.say('four');
		await bench.say('yes');
		expect(seen.words().filter((_, i) => !seen.heard[i]!.unsure)).toEqual(['yes']);
	});
	it('E7. a damaged model is told, and a second start tries again', async () => {
		let damaged = true;
		const bench = ownBench(async (file) => {
			const bytes = await shipped(file);
			if (damaged && file === 'head.f16') bytes[5] = bytes[5]! ^ 16;
			return bytes;
		});
		const seen = watched(bench);
		bench.ears.setVocabulary(['next']);
		await bench.ears.start();
		expect(seen.errors.map(({ error }) => error)).toEqual(['service-not-allowed']);
		expect(seen.errors[0]!.message).toContain('head.f16 is damaged');
		damaged = false;
		await bench.ears.start();
		await bench.say('next');
		expect(seen.words()).toEqual(['next']);
	});
	it('E14. an operator’s words are used if this network made them, told as older if not, and never heard by after they are taken away', async () => {
		const bench = ownBench();
		const seen = watched(bench);
		const { takesOf, embedding } = await loadModel(shipped);
		const takes = await Promise.all([1, 2, 3].map(async () => takeIn(new SpeechFeatures(embedding), await sound('trouble'))));
		const enrolment: Enrolment = { person: 'Ada Invented', model: takesOf, changedAt: '2026-05-04T08:00:00Z', words: [{ word: 'next', takes }] };
		bench.ears.setVocabulary(['next', 'stop']);
		expect(await bench.ears.enrol({ ...enrolment, model: 'c'.repeat(64) })).toBe('older');
		await bench.ears.start();
		await bench.say('trouble');
		expect(seen.words()).toEqual([]);
		expect(await bench.ears.enrol(enrolment)).toBe('used');
		await bench.say('trouble');
		expect(seen.words()).toEqual(['next']);
		expect(await bench.ears.enrol(null)).toBe('unused');
		await bench.say('trouble');
		expect(seen.words()).toEqual(['next']);
	});
	it('E16. where only the operator counts, a neighbour’s word is told as foreign and “stop” as anybody’s; where that can’t be, it says so', async () => {
		let missing = true;
		const bench = ownBench((file) => (missing && file === 'voices.f16' ? Promise.reject(new Error('gone')) : shipped(file)));
		const seen = watched(bench);
		const [{ takesOf, embedding }, { eigenvoices }] = await Promise.all([loadModel(shipped), loadVoices(shipped)]);
		const words = await Promise.all(['next', 'four', 'no'].map(async (word) => {
			const one = await sound(word);
			return { word, takes: [1, 0.9, 1.1].map((gain) => takeIn(new SpeechFeatures(embedding), one.map((x) => gain * x), eigenvoices)) };
		}));
		const enrolment: Enrolment = { person: 'Ada Invented', model: takesOf, changedAt: '2026-05-04T08:00:00Z', words, operatorOnly: true };
		bench.ears.setVocabulary(['next', 'yes', 'stop']);
		expect(await bench.ears.enrol(enrolment)).toBe('used');
		missing = false;
		expect(await bench.ears.enrol(enrolment)).toBe('only');
		await bench.ears.start();
		for (const word of ['next', 'neighbour-next', 'neighbour-stop']) await bench.say(word);
		expect(seen.heard.map(({ alternatives, foreign }) => [alternatives[0]!.transcript, foreign ?? false])).toEqual([['next', false], ['next', true], ['stop', false]]);
		const { operatorOnly: _, ...anyones } = enrolment;
		expect(await bench.ears.enrol(anyones)).toBe('used');
		await bench.say('neighbour-next');
		expect(seen.heard.at(-1)).not.toHaveProperty('foreign');
		expect(await bench.ears.enrol({ ...enrolment, words: words.slice(1) })).toBe('used');
		// asked twice before the first answer came
		expect(await Promise.all([bench.ears.enrol(anyones), bench.ears.enrol(enrolment), bench.ears.enrol(anyones)])).toEqual(['used', 'only', 'used']);
	});
	it.each([['denied', 'not-allowed'], ['missing', 'audio-capture'], ['broken', 'audio-capture']] as const)('E8. a microphone that is %s is told as %s', async (reason, error) => {
		const bench = ownBench(shipped, new MicrophoneFault(reason, 'why'));
		const seen = watched(bench);
		await bench.ears.start();
		expect(seen.errors).toEqual([{ error, message: 'why' }]);
	});
});
