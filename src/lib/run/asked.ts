import type { ReadingSpec } from '$lib/procedure/edition';
import type { RunState } from './state';

/** The reading that is asked for now, in the step's order; null where none is or all are in. */
export function readingAsked(state: RunState): ReadingSpec | null {
	const step = state.edition.steps[state.step];
	if (!step || (step.kind === 'adjust' && step.adjust && state.rounds.length >= step.adjust.rounds)) return null;
	return step.readings.find(({ id }) => !state.readings[id]) ?? null;
}

/** All readings of a reading step are in. (An adjust step's move into its rounds as soon as they are.) */
export function readingsAllIn(state: RunState): boolean {
	const step = state.edition.steps[state.step];
	return step?.kind === 'reading' && step.readings.length > 0 && step.readings.every(({ id }) => state.readings[id]);
}
