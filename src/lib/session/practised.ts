import type { RunFacts } from '$lib/run/run-facts';

/** Of what times are compared from run to run. */
export type Practised = { readonly of: 'visit' } | { readonly of: 'stage'; readonly stage: string } | { readonly of: 'step'; readonly path: string };

export interface PractisedTime {
	readonly run: string;
	/** The run's begin, epoch ms. */
	readonly atMs: number;
	readonly timeMs: number;
}

/**
 * One time a run, in the order of the runs, pauses taken out. A visit counts if it was walked to its end with no stage left out, a stage if
 * it was walked to its end, of a step its first visit; all only if they were measured throughout.
 */
export const practisedTimes = (runs: readonly RunFacts[], practised: Practised): PractisedTime[] =>
	runs.flatMap((facts) => {
		const timeMs = timeIn(facts, practised);
		return timeMs !== null && timeMs > 0 ? [{ run: facts.run, atMs: facts.past.startedAtMs, timeMs }] : [];
	});

function timeIn({ past, stages }: RunFacts, practised: Practised): number | null {
	if (practised.of === 'stage') return stages.find(({ id }) => id === practised.stage)?.timeMs ?? null;
	if (practised.of === 'step') {
		const first = past.steps.find(({ path, visit }) => path === practised.path && visit === 1);
		return first && !first.censored ? first.durationMs : null;
	}
	if (past.outcome !== 'complete') return null;
	return stages.reduce<number | null>((sum, { timeMs }) => (sum === null || timeMs === null ? null : sum + timeMs), 0);
}
