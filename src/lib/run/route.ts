import { holds, type Parts, type Settings } from '$lib/procedure/condition';
import type { ConditionId, Outcome, PartId, Route, Step, StepPath, Target } from '$lib/procedure/edition';
import { framesAt } from '$lib/procedure/frames';
import type { Frame, RunState } from './state';

type Sets = readonly { readonly part: PartId; readonly to: ConditionId }[];

/** The parts after `set`; the same object if nothing is set. */
export const partsAfter = (parts: Parts, set: Sets): Parts =>
	set.length === 0 ? parts : { ...parts, ...Object.fromEntries(set.map(({ part, to }) => [part, to])) };

/** The first route whose condition holds. The last has none, so that there is always one; null only in a broken edition. */
export const routeOf = (go: readonly Route[], parts: Parts, settings: Settings): Target | null =>
	go.find((route) => route.when === undefined || holds(route.when, parts, settings))?.to ?? null;

/** Where the walk is to go after a target was taken, without having gone there. */
export type Heading = Pick<RunState, 'due' | 'returning' | 'calling'>;

/** Resolves a target from where the walk stands. */
export function headingFor(state: RunState, target: Target | null): Heading {
	if (target === null) return { due: null, returning: null, calling: null };
	if ('trouble' in target) return { due: null, returning: null, calling: target.trouble };
	if ('end' in target) {
		if (target.end === 'complete' && !state.ending) return { due: 'complete', returning: null, calling: null };
		return { due: 'safe end', returning: state.frames ? { to: 'safe end', frames: null } : null, calling: null };
	}
	if ('back' in target && target.back === 'same') {
		const { frames } = state;
		return frames ? leadTo(state, frames.from, frames.outer) : leadTo(state, state.step, null);
	}
	const to: StepPath = 'back' in target ? target.back : target.step;
	return leadTo(state, to, framesAt(state.edition, to, state.frames) ?? null);
}

const leadTo = (state: RunState, to: StepPath, frames: Frame | null): Heading => ({
	due: to,
	returning: frames === state.frames ? null : { to, frames },
	calling: null
});

/** The outcome of a step by its id. */
export const outcomeOf = (step: Step | undefined, id: string): Outcome | undefined =>
	step?.outcomes.find((outcome) => outcome.id === id);

/** What leaving out needs and where it leads: of this step, or of its stage if `stage` is named (at its first step only). */
export function leaveOutOf(state: Pick<RunState, 'edition'>, path: StepPath, stage?: string): Step['optional'] {
	return stage === undefined
		? state.edition.steps[path]?.optional
		: state.edition.stages.find(({ id, steps }) => id === stage && steps[0] === path)?.optional;
}
