import type { Axis, Sign, Signs } from '$lib/metrology/axes';
import type { InstrumentUsed } from '$lib/metrology/instrument';
import type { PreferenceValues } from './preferences.svelte';

/** What the moves know of this instrument besides its column angle; kept on this device. SI; null: not set. */
export interface InstrumentKept {
	/** Signs found by the trial; a missing one has not been tried. */
	readonly signs: Signs;
	/** When the last trial ended, RFC 3339, and who did it. */
	readonly signsTried: { readonly at: string; readonly by: string } | null;
	readonly viewHalfM: number | null;
	/** Largest single move allowed. */
	readonly limitM: number | null;
	readonly beamShiftRangeM: number | null;
	/** How far a stored place may have moved before the return is questioned. */
	readonly placeToleranceM: number | null;
}

export const untriedInstrument: InstrumentKept = {
	signs: {},
	signsTried: null,
	viewHalfM: null,
	limitM: null,
	beamShiftRangeM: null,
	placeToleranceM: null
};

/** Id of the editions' setting that fixes the angle between the columns, in degrees. */
export const COLUMN_ANGLE = 'column-angle';

/** What this device knows of the instrument, as a run records it and its moves go by it. */
export function instrumentUsed({ instrument, moves }: Pick<PreferenceValues, 'instrument' | 'moves'>): InstrumentUsed {
	const angleDeg = instrument[COLUMN_ANGLE];
	return {
		signs: moves.signs,
		...(typeof angleDeg === 'number' ? { columnAngleRad: (angleDeg * Math.PI) / 180 } : {}),
		...(moves.viewHalfM === null ? {} : { viewHalfM: moves.viewHalfM }),
		...(moves.limitM === null ? {} : { limitM: moves.limitM }),
		...(moves.beamShiftRangeM === null ? {} : { beamShiftRangeM: moves.beamShiftRangeM }),
		...(moves.placeToleranceM === null ? {} : { placeToleranceM: moves.placeToleranceM })
	};
}

const signOption = (sign: Sign | undefined): string => (sign === undefined ? 'untried' : sign > 0 ? '+' : '-');

/** The same by the names of the sums' inputs; `axis` is the axis that the sum moves, null where it moves none. */
export function knownSettings(values: Pick<PreferenceValues, 'instrument' | 'moves'>, axis: Axis | null): Readonly<Record<string, number | string>> {
	const { signs = {}, columnAngleRad, viewHalfM, limitM, beamShiftRangeM } = instrumentUsed(values);
	const quantities = { columnAngle: columnAngleRad, viewHalf: viewHalfM, limit: limitM, range: beamShiftRangeM };
	return {
		...Object.fromEntries(Object.entries(quantities).filter((entry): entry is [string, number] => entry[1] !== undefined)),
		...(axis === null ? {} : { sign: signOption(signs[axis]) }),
		raises: signOption(signs.stageZRaises),
		tiltSign: signOption(signs.stageTilt)
	};
}
