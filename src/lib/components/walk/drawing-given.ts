import type { Given } from '$lib/drawing/parameters';
import type { DrawingUse } from '$lib/procedure/edition';
import type { RunState } from '$lib/run/state';

/** A drawing's parameters with what the run knows filled in: `reading:id` and `part:id` become values; what is not known yet is left out. */
export function drawingGiven(use: DrawingUse, state: RunState): Given {
	const newest = state.rounds[state.rounds.length - 1];
	const filled: Record<string, Given[string]> = {};
	for (const [name, value] of Object.entries(use.with)) {
		if (typeof value === 'string' && value.startsWith('reading:')) {
			const id = value.slice('reading:'.length);
			const reading = state.readings[id] ?? newest?.[id];
			if (reading) filled[name] = reading.value;
		} else if (typeof value === 'string' && value.startsWith('part:')) filled[name] = state.parts[value.slice('part:'.length)] ?? '';
		else filled[name] = value;
	}
	return filled;
}
