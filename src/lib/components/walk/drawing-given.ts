import { drawings } from '$lib/drawing/registry';
import type { Given } from '$lib/drawing/parameters';
import type { DrawingUse } from '$lib/procedure/edition';
import type { RunState } from '$lib/run/state';

/**
 * A drawing's parameters with what the run knows filled in: `reading:id` and `part:id` become values; a reading still to be
 * given becomes null. An adjust step's tolerance is its drawing's, where that has one.
 */
export function drawingGiven(use: DrawingUse, state: RunState): Given {
	const entry = drawings[use.name];
	const step = state.edition.steps[state.step];
	// a new round must not mix with the readings of the last one: half of each would show a move that nobody measured
	const readings = Object.keys(state.readings).length > 0 ? state.readings : (state.rounds[state.rounds.length - 1] ?? {});
	const filled: Record<string, Given[string]> = {};
	const tolerance = step?.adjust?.tolerance;
	if (tolerance !== undefined && entry && Object.hasOwn(entry.parameters, 'tolerance')) filled.tolerance = { value: tolerance, unit: step?.readings[0]?.unit ?? '' };
	for (const [name, value] of Object.entries(use.with)) {
		if (typeof value === 'string' && value.startsWith('reading:')) {
			const reading = readings[value.slice('reading:'.length)];
			filled[name] = reading ? { value: reading.value, unit: reading.unit } : null;
		} else if (typeof value === 'string' && value.startsWith('part:')) filled[name] = state.parts[value.slice('part:'.length)];
		else filled[name] = value;
	}
	return filled;
}
