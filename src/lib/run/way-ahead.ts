import { holds, type Parts } from '$lib/procedure/condition';
import type { Edition, Outcome, Route, StepPath, Target } from '$lib/procedure/edition';
import type { Frame, RunState } from './state';

/**
 * The steps that still come after the one being walked if everything goes the plain way: first outcomes, parts as they
 * then will be, back out of open troubles. Where the plain outcome can't be taken (a slot that is not there) the first
 * one offered is. Ends at an end, or where a step would come twice.
 */
export function wayAhead(state: Pick<RunState, 'edition' | 'step' | 'parts' | 'settings' | 'frames'>): StepPath[] {
	const { edition, settings } = state;
	const way: StepPath[] = [];
	const seen = new Set<StepPath>([state.step]);
	let parts: Parts = state.parts;
	let frames: Frame | null = state.frames;
	let at: StepPath = state.step;
	for (;;) {
		const outcome = plainOutcome(edition, at, parts, settings);
		if (!outcome) return way;
		parts = taken(parts, outcome.set);
		let target = routed(outcome.go, parts, settings);
		while (target && 'trouble' in target) {
			const id: string = target.trouble;
			const trouble = edition.troubles.find((t) => t.id === id);
			if (!trouble) return way;
			frames = { trouble: id, from: at, outer: frames };
			parts = taken(parts, trouble.set);
			target = routed(trouble.go, parts, settings);
		}
		if (!target || 'end' in target) return way;
		let next: StepPath;
		if ('step' in target) next = target.step;
		else {
			if (!frames) return way;
			next = target.back === 'same' ? frames.from : target.back;
			frames = target.back === 'same' ? frames.outer : null;
			// the step returned to is walked again
			if (target.back === 'same') seen.delete(next);
		}
		if (seen.has(next)) return way;
		seen.add(next);
		way.push(next);
		at = next;
	}
}

function plainOutcome(edition: Edition, path: StepPath, parts: Parts, settings: RunState['settings']): Outcome | undefined {
	return edition.steps[path]?.outcomes.find((o) => !o.offered || holds(o.offered, parts, settings));
}

const taken = (parts: Parts, set: Outcome['set']): Parts => ({ ...parts, ...Object.fromEntries(set.map(({ part, to }) => [part, to])) });

const routed = (go: readonly Route[], parts: Parts, settings: RunState['settings']): Target | undefined =>
	go.find((route) => !route.when || holds(route.when, parts, settings))?.to;
