import type { Signs } from './axes';

/** What the guide goes by of one instrument when it tells a move or questions a place. SI; what is missing was not set. */
export type InstrumentUsed = {
	/** Angle between the two columns. */
	readonly columnAngleRad?: number;
	/** Signs of the axes; untried ones are left out. */
	readonly signs?: Signs;
	/** Half the width of the view that readings are taken in. */
	readonly viewHalfM?: number;
	/** Largest single move allowed. */
	readonly limitM?: number;
	/** How far beam shift reaches to either side. */
	readonly beamShiftRangeM?: number;
	/** How far a stored place may have moved. */
	readonly placeToleranceM?: number;
};
