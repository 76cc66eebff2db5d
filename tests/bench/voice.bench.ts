import { spawnSync } from 'node:child_process';
import { readFile, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { SAMPLE_RATE } from '$lib/voice/features/mel';
import { Listener } from '$lib/voice/listener';
import { loadModel } from '$lib/voice/model';
import { STEP_SAMPLES } from '$lib/voice/stages';
import { resample } from '$lib/voice/resample';
import { readWav } from '$lib/voice/wav';
import { quantileOfSorted } from '$lib/timing/quantile';
import type { Figure } from './figure';

const MODEL = 'static/voice';
const SOUNDS = 'tests/fixtures/voice';
const STEPS = 4000;
const WARM_STEPS = 200;
/** Steps of each child whose memory is read: ten minutes. */
const LONG_STEPS = 7500;
const CHILDREN = 5;
const source = 'processor time of the process (cpuUsage); the shipped recogniser on the words of tests/fixtures/voice over and over';

const listening = async () => new Listener(await loadModel((file) => readFile(join(MODEL, file))));

/** The fixtures' words one after another, at 16 kHz. */
async function words(): Promise<Float32Array> {
	const names = (await readdir(SOUNDS)).filter((name) => name.endsWith('.wav')).toSorted();
	const sounds = await Promise.all(names.map(async (name) => readWav(await readFile(join(SOUNDS, name)))));
	return Float32Array.from(sounds.flatMap(({ samples, sampleRate }) => Array.from(resample(samples, sampleRate, SAMPLE_RATE))));
}

/** Steps' worth of sound, from the start again when it is over. */
function* steps(sound: Float32Array, count: number): Generator<Float32Array> {
	const whole = Math.floor(sound.length / STEP_SAMPLES);
	for (let i = 0; i < count; i++) yield sound.subarray((i % whole) * STEP_SAMPLES, ((i % whole) + 1) * STEP_SAMPLES);
}

const MEBI = 2 ** 20;

/** What a process grows by when it loads the recogniser and hears ten minutes: resident memory, in MiB. Run in a child of its own. */
export async function grownMiB(): Promise<number> {
	const sound = await words();
	const before = process.memoryUsage().rss;
	const listener = await listening();
	let heard = 0;
	for (const step of steps(sound, LONG_STEPS)) listener.push(step, () => void heard++);
	if (heard === 0) throw new Error('nothing was heard: no measure of a recogniser at work');
	return (process.memoryUsage().rss - before) / MEBI;
}

function grownInChild(): number {
	const call = `import(${JSON.stringify(import.meta.url)}).then(async (bench) => console.log(await bench.grownMiB()))`;
	const { status, stdout, stderr } = spawnSync(process.execPath, ['--input-type=module', '-e', call], { encoding: 'utf8', cwd: process.cwd() });
	if (status !== 0) throw new Error(`${fileURLToPath(import.meta.url)} in a child ended with ${status}: ${stderr.slice(0, 500)}`);
	return Number(stdout);
}

const numbers = Float64Array.from({ length: 4096 }, (_, i) => Math.sin(i));
/** The fixed work that a step is set beside: a hundred thousand multiplications and additions in plain script. */
function reference(): number {
	let sum = 0;
	for (let round = 0; round < 25; round++) for (let i = 0; i < numbers.length; i++) sum += numbers[i]! * numbers[(i + round) & 4095]!;
	return sum;
}

/** What a machine busy with other work adds to the wall clock is not in it. */
function cpuMs(): number {
	const { user, system } = process.cpuUsage();
	return (user + system) / 1000;
}

const rounded = (value: number) => Number(value.toFixed(3));

/** A quantile with its 95 % interval by order statistics (binomial, normal approximation). */
function quantile(values: readonly number[], p: number): { value: number; interval: [number, number] } {
	const sorted = values.toSorted((a, b) => a - b);
	const half = 1.96 * Math.sqrt((p * (1 - p)) / sorted.length);
	const at = (share: number) => rounded(quantileOfSorted(sorted, Math.min(1, Math.max(0, share))));
	return { value: at(p), interval: [at(p - half), at(p + half)] };
}

/** Figures of the recogniser at work: time of one step of 80 ms beside fixed work, and memory. */
export async function figures(): Promise<Figure[]> {
	const listener = await listening();
	const [stepMs, wallMs, referenceMs]: [number[], number[], number[]] = [[], [], []];
	let kept = 0;
	for (const [i, step] of [...steps(await words(), WARM_STEPS + STEPS)].entries()) {
		const [begin, beginCpu] = [performance.now(), cpuMs()];
		listener.push(step, () => void kept++);
		const [end, endCpu] = [performance.now(), cpuMs()];
		kept += reference() > 0 ? 1 : 0;
		if (i < WARM_STEPS) continue;
		stepMs.push(endCpu - beginCpu);
		wallMs.push(end - begin);
		referenceMs.push(cpuMs() - endCpu);
	}
	if (kept === 0) throw new Error('nothing was measured');
	const grown = Array.from({ length: CHILDREN }, grownInChild).toSorted((a, b) => a - b);
	const half = quantile(referenceMs, 0.5).value;
	const n = STEPS;
	return [
		{ name: 'one step of 80 ms, p50', ...quantile(stepMs, 0.5), unit: 'ms', n, source },
		{ name: 'one step of 80 ms, p95', ...quantile(stepMs, 0.95), unit: 'ms', goal: '≤ 10', n, source },
		{ name: 'one step of 80 ms, p95 by the wall clock', ...quantile(wallMs, 0.95), unit: 'ms', n, source: 'own clock (performance.now), in the same steps: other work on the machine counts too' },
		{ name: 'fixed work, p50', ...quantile(referenceMs, 0.5), unit: 'ms', n, source: 'a hundred thousand multiplications in script, in turns with the steps' },
		{ name: 'one step, p50, by fixed work', value: rounded(quantile(stepMs, 0.5).value / half), n, source: 'ratio of the medians above' },
		{ name: 'one step, p95, by fixed work', value: rounded(quantile(stepMs, 0.95).value / half), n, source: 'ratio of the p95 and the median above' },
		{
			name: 'memory grown by loading it and hearing 10 min', value: rounded(grown[CHILDREN >> 1]!), unit: 'MiB', goal: '≤ 120', n: CHILDREN,
			// of five children the range holds the median with 94 %
			interval: [rounded(grown[0]!), rounded(grown.at(-1)!)], source: 'resident memory of a child process (memoryUsage), Node'
		}
	];
}
