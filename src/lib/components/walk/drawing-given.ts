import type { Given } from '$lib/drawing/parameters';
import type { DrawingUse } from '$lib/procedure/edition';
import { judgeLoop } from '$lib/run/adjust';
import type { RunState } from '$lib/run/state';

/**
 * A drawing's parameters with what the run knows filled in: `reading:id` and `part:id` become values; a reading still to be
 * given becomes null. The way the picture is to go is its drawing's, where that has one.
 */
export function drawingGiven(use: DrawingUse, state: RunState): Given {
	// a new round must not mix with the readings of the last one: half of each would show a move that nobody measured
	const readings = Object.keys(state.readings).length > 0 ? state.readings : (state.rounds[state.rounds.length - 1] ?? {});
	const filled: Record<string, Given[string]> = {};
	Object.assign(filled, pictureGoes(use, state));
	for (const [name, value] of Object.entries(use.with)) {
		if (typeof value === 'string' && value.startsWith('reading:')) {
			const reading = readings[value.slice('reading:'.length)];
			filled[name] = reading ? { value: reading.value, unit: reading.unit } : null;
		} else if (typeof value === 'string' && value.startsWith('part:')) filled[name] = state.parts[value.slice('part:'.length)];
		else filled[name] = value;
	}
	return filled;
}

/** What the step knows beside: an adjust step's tolerance, in its reading's unit. */
export function stepKnows({ edition, step: path }: RunState): Given {
	const step = edition.steps[path];
	return step?.adjust ? { tolerance: { value: step.adjust.tolerance, unit: step.readings[0]?.unit ?? '' } } : {};
}

/** The parameter by which a drawing shows a reading, and can take it where it is moved; undefined where it does not show it. */
export const parameterOf = (use: DrawingUse | undefined, reading: string): string | undefined =>
	Object.entries(use?.with ?? {}).find(([, value]) => value === `reading:${reading}`)?.[0];

/** Where the picture is to go, on a drawing of the views: from where it was read to the centre of the view the move is seen in. */
function pictureGoes(use: DrawingUse, state: RunState): Given {
	const told = use.name === 'two views' ? judgeLoop(state)?.move : null;
	if (!told || told.questioned || (told.toleranceShare ?? Infinity) <= 1) return {};
	const { view, axis } = told.move;
	const newest = state.rounds[state.rounds.length - 1] ?? {};
	const seen = Object.entries(use.with).find(([name, value]) => (name === 'ionY' || name === 'electronY') && newest[String(value).replace('reading:', '')]);
	const reading = seen && newest[String(seen[1]).replace('reading:', '')];
	// only a height read in a view is corrected by what that view shows
	if (!reading || view === 'side' || !axis.endsWith('Z')) return {};
	return { goesIn: view, goesY: { value: -reading.value, unit: reading.unit } };
}
