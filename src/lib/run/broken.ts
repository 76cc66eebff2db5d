import { holds, type Parts, unmet } from '$lib/procedure/condition';
import type { PartId, StepPath } from '$lib/procedure/edition';
import type { Broken } from './command';
import type { RunState } from './state';

/** Invariants over a state that these parts break. */
export const brokenAlways = ({ edition, settings }: Pick<RunState, 'edition' | 'settings'>, parts: Parts): Broken[] =>
	edition.invariants.flatMap((invariant) => {
		if (!('always' in invariant) || holds(invariant.always, parts, settings)) return [];
		return [{ what: 'invariant' as const, about: invariant.id, unmet: unmet(invariant.always, parts, settings) }];
	});

/** Invariants over a change that going from `state.parts` to `after` breaks; the step's own small moves are exempt. */
export const brokenChanges = (state: RunState, after: Parts, smallMoves: readonly PartId[]): Broken[] =>
	state.edition.invariants.flatMap((invariant) => {
		if (!('changes' in invariant)) return [];
		const part = invariant.changes;
		if (state.parts[part] === after[part] || smallMoves.includes(part)) return [];
		const missing = unmet(invariant.onlyWhile, state.parts, state.settings);
		return missing.length === 0 ? [] : [{ what: 'invariant' as const, about: invariant.id, unmet: missing, part }];
	});

/** What a step's requirement lacks, or null. */
export function brokenRequirement(
	{ edition, parts, settings }: Pick<RunState, 'edition' | 'parts' | 'settings'>,
	step: StepPath
): Broken | null {
	const require = edition.steps[step]?.require;
	if (!require || holds(require, parts, settings)) return null;
	return { what: 'requirement', about: step, unmet: unmet(require, parts, settings) };
}

/** What an end's condition lacks, or null. */
export function brokenEnd(
	{ edition, parts, settings }: Pick<RunState, 'edition' | 'parts' | 'settings'>,
	end: 'complete' | 'safe'
): Broken | null {
	const condition = edition.ends[end];
	return holds(condition, parts, settings)
		? null
		: { what: 'end', about: end, unmet: unmet(condition, parts, settings) };
}
