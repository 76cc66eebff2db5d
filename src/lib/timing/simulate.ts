/** Draws the rest of a run many times, one column of times (ms) a step. */
import { happenings, type Draws } from './draws';
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
			running[draw] = Math.max(0, total - elapsedMs);
		}
		addExtras(running, run.running, paces, draws);
	}
	const ahead = run.ahead.map((step) => {
		const column = new Float64Array(count);
		const { mu, loading } = step.law;
		const sd = Math.sqrt(step.law.variance);
		for (let draw = 0; draw < count; draw++)
			column[draw] = Math.exp(mu + loading * (paces[draw] as number) + sd * draws.normal());
		addExtras(column, step, paces, draws);
		leaveOut(column, step, bundles, draws);
		return column;
	});
	return { running, ahead };
}

/** Adds the time of further visits and of troubles. */
function addExtras(
	column: Float64Array,
	{ law, again = 0, trouble }: StepAhead,
	paces: Float64Array,
	draws: Draws
): void {
	const sd = Math.sqrt(law.variance);
	const add = (draw: number, ms: number): void => void (column[draw] = (column[draw] as number) + ms);
	const strike = (draw: number): void =>
		trouble ? add(draw, Math.exp(trouble.mu + trouble.sigma * draws.normal())) : undefined;
	for (const draw of happenings(column.length, again, draws)) {
		const mean = law.mu + law.loading * (paces[draw] as number);
		let visits = 0;
		do {
			add(draw, Math.exp(mean + sd * draws.normal()));
			if (trouble && draws.uniform() < trouble.chance) strike(draw);
			visits += 1;
		} while (visits < MOST_AGAIN && draws.uniform() < again);
	}
	if (trouble) for (const draw of happenings(column.length, trouble.chance, draws)) strike(draw);
}

/** Sets the draws to zero in which the step does not come. */
function leaveOut(
	column: Float64Array,
	{ probability, bundle }: StepAhead,
	bundles: Map<string, Float64Array>,
	draws: Draws
): void {
	if (bundle === undefined) {
		for (const draw of happenings(column.length, 1 - probability, draws)) column[draw] = 0;
		return;
	}
	const together = bundleDraws(bundles, bundle, column.length, draws);
	for (let draw = 0; draw < column.length; draw++) if ((together[draw] as number) >= probability) column[draw] = 0;
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
	const values = Float64Array.from(
		{ length: count },
		(_, index) => pace.mean + sd * normalQuantile((index + 0.5) / count)
	);
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
