import type { RunFacts } from '$lib/run/run-facts';
import { quantileOfSorted } from '$lib/timing/quantile';

/** How long the visits of one step lasted, over many runs. Only measured and whole ones. */
export interface StepSpread {
	readonly path: string;
	/** Rising, ms. */
	readonly timesMs: readonly number[];
	readonly plannedMs: number | null;
	/** Null where the visits are too few. */
	readonly spread: { readonly p10Ms: number; readonly medianMs: number; readonly p90Ms: number } | null;
}

/** With fewer visits a tenth and a ninth tenth are no more than the shortest and the longest. */
export const FEWEST_FOR_SPREAD = 5;

/** Spreads of the given steps, in their order. */
export function stepSpreads(runs: readonly RunFacts[], steps: readonly { readonly path: string; readonly plannedMs: number | null }[]): StepSpread[] {
	const times = new Map<string, number[]>(steps.map(({ path }) => [path, []]));
	for (const { past } of runs) for (const { path, durationMs, censored } of past.steps) if (!censored) times.get(path)?.push(durationMs);
	return steps.map(({ path, plannedMs }) => {
		const timesMs = (times.get(path) ?? []).sort((a, b) => a - b);
		const at = (p: number) => quantileOfSorted(timesMs, p);
		return { path, timesMs, plannedMs, spread: timesMs.length < FEWEST_FOR_SPREAD ? null : { p10Ms: at(0.1), medianMs: at(0.5), p90Ms: at(0.9) } };
	});
}
