/** Draws the rest of a run many times, one column of times (ms) a step. */
import type { Draws } from './draws';
import type { Pace, StepLaw } from './effects';
import { normalQuantile, normalTail } from './normal';
import { quantileOfSorted } from './quantile';
import type { Law, LawOf } from './answer';

/** What may come at a step ahead, besides its own time. */
export interface StepAhead {
	readonly law: StepLaw;
	/** Probability that it comes at all. */
	readonly probability: number;
	/** Steps with the same bundle come or stay away together (those of an optional stage). */
	readonly bundle?: string;
	/** Chance that a visit is followed by another one (a loop); geometric. */
	readonly again?: number;
	/** Chance of a trouble in a visit, and the law of its time (ln ms). */
	readonly trouble?: { readonly chance: number; readonly mu: number; readonly sigma: number };
}

export interface RunAhead {
	readonly pace: Pace;
	readonly running?: StepAhead & { readonly elapsedMs: number };
	readonly ahead: readonly StepAhead[];
}

export interface Columns {
	readonly running: Float64Array;
	readonly ahead: readonly Float64Array[];
}

/** A loop that never ends is no forecast: at most this many further visits of a step. */
const MOST_AGAIN = 20;

export function simulate(run: RunAhead, count: number, draws: Draws): Columns {
	const paces = paceDraws(run, count);
	const bundles = new Map<string, Float64Array>();
	const running = new Float64Array(count);
	if (run.running) {
		const { law, elapsedMs } = run.running;
		const sd = Math.sqrt(law.variance);
		for (let draw = 0; draw < count; draw++) {
			const mean = law.mu + law.loading * (paces[draw] as number);
			const lastsBeyond = elapsedMs > 0 ? Math.max(1e-300, normalTail((Math.log(elapsedMs) - mean) / sd)) : 1;
			const total = Math.exp(mean - sd * normalQuantile(lastsBeyond * draws.uniform()));
			running[draw] = Math.max(0, total - elapsedMs) + extra(run.running, mean, sd, draws);
		}
	}
	const ahead = run.ahead.map((step) => {
		const column = new Float64Array(count);
		const bundle = step.bundle === undefined ? undefined : bundleDraws(bundles, step.bundle, count, draws);
		const sd = Math.sqrt(step.law.variance);
		for (let draw = 0; draw < count; draw++) {
			if (step.probability < 1 && (bundle?.[draw] ?? draws.uniform()) >= step.probability) continue;
			const mean = step.law.mu + step.law.loading * (paces[draw] as number);
			column[draw] = Math.exp(mean + sd * draws.normal()) + extra(step, mean, sd, draws);
		}
		return column;
	});
	return { running, ahead };
}

/** Time of further visits and troubles. */
function extra({ again = 0, trouble }: StepAhead, mean: number, sd: number, draws: Draws): number {
	let ms = 0;
	let visits = 1;
	while (again > 0 && visits <= MOST_AGAIN && draws.uniform() < again) {
		ms += Math.exp(mean + sd * draws.normal());
		visits += 1;
	}
	if (trouble && trouble.chance > 0)
		for (let visit = 0; visit < visits; visit++)
			if (draws.uniform() < trouble.chance) ms += Math.exp(trouble.mu + trouble.sigma * draws.normal());
	return ms;
}

function bundleDraws(bundles: Map<string, Float64Array>, name: string, count: number, draws: Draws): Float64Array {
	const known = bundles.get(name) ?? Float64Array.from({ length: count }, () => draws.uniform());
	bundles.set(name, known);
	return known;
}

/**
 * Equally likely values of today's pace. That the running step has lasted `elapsedMs` already speaks for a slow day: stratified values of
 * the pace are weighted with the chance of lasting so long, and drawn from again at even steps of the weights' sum.
 */
function paceDraws({ pace, running }: RunAhead, count: number): Float64Array {
	const sd = Math.sqrt(pace.variance);
	const values = Float64Array.from({ length: count }, (_, index) => pace.mean + sd * normalQuantile((index + 0.5) / count));
	if (!running || running.elapsedMs <= 0) return values;
	const { mu, loading, variance } = running.law;
	const elapsed = Math.log(running.elapsedMs);
	const sums = new Float64Array(count);
	let sum = 0;
	for (let index = 0; index < count; index++) {
		const z = (elapsed - mu - loading * (values[index] as number)) / Math.sqrt(variance);
		sum += Math.max(normalTail(z), 1e-300);
		sums[index] = sum;
	}
	const chosen = new Float64Array(count);
	let at = 0;
	for (let index = 0; index < count; index++) {
		while (at < count - 1 && (sums[at] as number) < ((index + 0.5) / count) * sum) at += 1;
		chosen[index] = values[at] as number;
	}
	return chosen;
}

/** Laws of sums of columns. */
export function lawsOf({ running, ahead }: Columns): LawOf {
	return (steps, withRunning) => {
		const sums = withRunning ? running.slice() : new Float64Array(running.length);
		for (const step of steps) {
			const column = ahead[step] as Float64Array;
			for (let draw = 0; draw < sums.length; draw++) sums[draw] = (sums[draw] as number) + (column[draw] as number);
		}
		return lawOfSample(sums.sort());
	};
}

const lawOfSample = (sorted: Float64Array): Law => ({
	quantile: (p) => quantileOfSorted(sorted, p),
	within: (ms) => {
		let low = 0;
		let high = sorted.length;
		while (low < high) {
			const middle = (low + high) >> 1;
			if ((sorted[middle] as number) <= ms) low = middle + 1;
			else high = middle;
		}
		return low / sorted.length;
	}
});
