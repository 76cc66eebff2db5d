import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { SpeechFeatures } from '$lib/voice/features/speech-features';
import { loadModel } from '$lib/voice/model';
import { OperatorCheck } from '$lib/voice/operator/operator-check';
import { loadVoices } from '$lib/voice/operator/voices';
import { takeIn } from '$lib/voice/take';
import { readWav } from '$lib/voice/wav';
import { quantileOfSorted } from '$lib/timing/quantile';
import type { Figure } from './figure';

const STEP_SAMPLES = 1280;
const STEPS = 3000;
const WARM_STEPS = 200;
/** A word is decided on each so many steps: far oftener than anyone speaks. */
const DECIDED_EVERY = 10;
const source = 'processor time (cpuUsage) of "listen to this operator only" alone, on the words of tests/fixtures/voice over and over';

const file = (name: string) => readFile(join('static/voice', name));
const sound = async (word: string) => readWav(await readFile(`tests/fixtures/voice/${word}.wav`)).samples;

const numbers = Float64Array.from({ length: 4096 }, (_, i) => Math.sin(i));
/** The fixed work that a step is set beside: a hundred thousand multiplications and additions in plain script. */
function reference(): number {
	let sum = 0;
	for (let round = 0; round < 25; round++) for (let i = 0; i < numbers.length; i++) sum += numbers[i]! * numbers[(i + round) & 4095]!;
	return sum;
}

function cpuMs(work: () => unknown): number {
	const before = process.cpuUsage();
	work();
	const { user, system } = process.cpuUsage(before);
	return (user + system) / 1000;
}

function figure(name: string, values: readonly number[], p: number, unit: string, over = 1): Figure {
	const sorted = values.toSorted((a, b) => a - b);
	const half = 1.96 * Math.sqrt((p * (1 - p)) / sorted.length);
	const at = (share: number) => Number((quantileOfSorted(sorted, Math.min(1, Math.max(0, share))) / over).toFixed(3));
	return { name, value: at(p), unit, n: sorted.length, interval: [at(p - half), at(p + half)], source };
}

export async function figures(): Promise<Figure[]> {
	const [{ embedding }, { eigenvoices, weighing }] = await Promise.all([loadModel(file), loadVoices(file)]);
	const features = new SpeechFeatures(embedding);
	const words = await Promise.all(['next', 'four', 'no'].map(async (word) => {
		const said = await sound(word);
		return { word, takes: [1, 0.9, 1.1].map((gain) => takeIn(features, said.map((x) => gain * x), eigenvoices)) };
	}));
	const check = new OperatorCheck(eigenvoices, weighing, words);
	const heard = await sound('booking-ends-at');
	const whole = Math.floor(heard.length / STEP_SAMPLES);
	const [steps, decisions, references]: [number[], number[], number[]] = [[], [], []];
	for (let i = 0; i < WARM_STEPS + STEPS; i++) {
		const part = heard.subarray((i % whole) * STEP_SAMPLES, ((i % whole) + 1) * STEP_SAMPLES);
		const step = cpuMs(() => check.push(part));
		const decision = i % DECIDED_EVERY === 0 ? cpuMs(() => check.isOperator()) : undefined;
		const fixed = cpuMs(reference);
		if (i < WARM_STEPS) continue;
		steps.push(step);
		references.push(fixed);
		if (decision !== undefined) decisions.push(decision);
	}
	const middle = quantileOfSorted(references.toSorted((a, b) => a - b), 0.5);
	return [
		figure('a step, p50', steps, 0.5, 'ms'),
		figure('a step, p95', steps, 0.95, 'ms'),
		figure('a step, p50, over 100,000 multiplications', steps, 0.5, '', middle),
		figure('a decision, p50', decisions, 0.5, 'ms'),
		figure('a decision, p95', decisions, 0.95, 'ms'),
		figure('a decision, p50, over 100,000 multiplications', decisions, 0.5, '', middle)
	];
}
