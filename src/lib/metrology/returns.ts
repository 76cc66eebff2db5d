import type { Position, StageAxis } from './storedPositions';

/** Places as a run knows them: where each is expected, and how far it may have moved. */
export interface KnownPlaces {
	readonly toleranceM: number;
	/** By condition of the part `stage`, e.g. "at-slot-1". */
	readonly expected: Readonly<Record<string, Position>>;
}

/** What was read of a position so far, in m. */
export type PartlyRead = Readonly<Partial<Record<StageAxis, number>>>;

/** Distance from the expected place along the axes that were read: never more than the whole distance. */
export const offSoFarM = (expected: Position, found: PartlyRead): number =>
	Math.hypot(...(['x', 'y', 'z'] as const).map((axis) => (found[axis] === undefined ? 0 : found[axis] - expected[`${axis}M`])));

/** The axis that a reading of a stage position gives, null for any other reading. */
export function stageAxisOf(reading: string): StageAxis | null {
	const axis = /^stage-([xyz])$/.exec(reading)?.[1];
	return axis === undefined ? null : (axis as StageAxis);
}

/**
 * Whether this axis shows that the place has moved beyond the tolerance: how far it is off along it, and the whole distance so far.
 * Null where it is within, where the axes before have shown it already, or where nothing is known of the place.
 */
export function movedBy(
	places: KnownPlaces,
	place: string,
	before: PartlyRead,
	axis: StageAxis,
	foundM: number
): { readonly expectedM: number; readonly offM: number } | null {
	const expected = Object.hasOwn(places.expected, place) ? places.expected[place] : undefined;
	if (!expected || offSoFarM(expected, before) > places.toleranceM) return null;
	const offM = offSoFarM(expected, { ...before, [axis]: foundM });
	return offM > places.toleranceM ? { expectedM: expected[`${axis}M`], offM } : null;
}
