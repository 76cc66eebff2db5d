import type { Edition, StepPath, TroubleId } from './edition';

/** Troubles that are open, innermost first; `from` is the step in which each was called. */
export interface OpenTrouble {
	readonly trouble: TroubleId;
	readonly from: StepPath;
	readonly outer: OpenTrouble | null;
}

/** The trouble that a step belongs to; null for a step of a stage. */
export function troubleOf(edition: Edition, step: StepPath): TroubleId | null {
	const stage = edition.steps[step]?.stage ?? '';
	return stage.startsWith('trouble:') ? stage.slice('trouble:'.length) : null;
}

/**
 * The troubles that stay open when the walk goes to `step`: those of the trouble it belongs to and outside of it; all
 * are closed by a step of a stage. Undefined where the step belongs to a trouble that is not open: nobody can go there.
 */
export function framesAt(edition: Edition, step: StepPath, frames: OpenTrouble | null): OpenTrouble | null | undefined {
	const trouble = troubleOf(edition, step);
	if (trouble === null) return null;
	for (let frame = frames; frame; frame = frame.outer) if (frame.trouble === trouble) return frame;
	return undefined;
}
