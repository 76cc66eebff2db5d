import { readFile } from 'node:fs/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { DoubleHearing } from './double-hearing';
import { SpeechFeatures } from './features/speech-features';
import { HeadNetwork } from './head-network';
import { type LoadedModel, loadModel } from './model';
import { STEP_SAMPLES } from './stages';
import { readWav } from './wav';

let model: LoadedModel;
let word: Float32Array;
beforeAll(async () => {
	model = await loadModel(async (name) => new Uint8Array(await readFile(`static/voice/${name}`)));
	word = readWav(await readFile('tests/fixtures/voice/yes.wav')).samples;
});

/** Probabilities of one look, by the plain parts. */
function look(samples: Float32Array): number[][] {
	const [features, head] = [new SpeechFeatures(model.embedding), new HeadNetwork(model.words, model.head)];
	const rows: number[][] = [];
	features.push(samples, (vector) => rows.push(Array.from(head.step(vector), Math.exp)));
	return rows;
}
function doubly(hearing: DoubleHearing, samples: Float32Array, part: number): number[][] {
	const rows: number[][] = [];
	for (let at = 0; at < samples.length; at += part) hearing.push(samples.subarray(at, at + part), ({ logProbabilities }) => rows.push(Array.from(logProbabilities, Math.exp)));
	return rows;
}
const late = (samples: Float32Array) => Float32Array.from([...new Float32Array(STEP_SAMPLES / 2), ...samples]);

describe('V10 hearing twice', () => {
	it('is the mean of two looks half a step apart', () => {
		const [one, other] = [look(word), look(late(word))];
		const found = doubly(new DoubleHearing(model), word, STEP_SAMPLES);
		expect(found.length).toBe(one.length);
		for (const [step, row] of found.entries()) for (const [i, p] of row.entries()) expect(p).toBeCloseTo((one[step]![i]! + other[step]![i]!) / 2, 5);
		// the two looks do differ, else this showed nothing
		expect(one.some((row, step) => row.some((p, i) => Math.abs(p - other[step]![i]!) > 0.05))).toBe(true);
	});
	it.each([37, STEP_SAMPLES / 2, 5000])('does not depend on how the sound is cut (%d samples)', (part) => {
		expect(doubly(new DoubleHearing(model), word, part)).toEqual(doubly(new DoubleHearing(model), word, STEP_SAMPLES));
	});
	it('forgets everything when reset', () => {
		const hearing = new DoubleHearing(model);
		const first = doubly(hearing, word, STEP_SAMPLES);
		hearing.push(word.subarray(0, 3000), () => undefined);
		hearing.reset();
		expect(doubly(hearing, word, STEP_SAMPLES)).toEqual(first);
	});
});
