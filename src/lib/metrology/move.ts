import type { Axis, Direction, Signs, View } from './axes';
import type { MoveWords, Words } from './words';

/** A reading in SI with its standard uncertainty (one standard deviation); without one the reckoning assumes none. */
export interface Measured {
	readonly value: number;
	readonly uncertainty?: number;
}

/** What a move needs to know besides the readings. All SI; what is missing is refused by name, never guessed. */
export interface MoveSettings {
	/** Angle between the two columns. */
	readonly columnAngleRad?: number;
	/** Signs of this instrument's axes; untried ones are left out. */
	readonly signs?: Signs;
	/** Axis to move; each move names its default. */
	readonly axis?: Axis;
	/** Largest error that counts as right. */
	readonly toleranceM?: number;
	/** Half the width of the view the reading was taken in: a larger move is questioned. */
	readonly viewHalfM?: number;
	/** How far beam shift reaches to either side. */
	readonly beamShiftRangeM?: number;
	/** Largest single move allowed here: a larger one is questioned. */
	readonly limitM?: number;
}

/** A move to make: how far off it is, what to do, how sure that is, and what to say. */
export interface MoveTold {
	readonly refused?: undefined;
	/** Error along the measured direction, signed (positive: right or up as seen), in m. */
	readonly errorM: number;
	/** Standard uncertainty of `errorM`, propagated from the readings' own; 0 where none was given. */
	readonly uncertaintyM: number;
	/** |error| ÷ tolerance: 1 or less is within. Null without a tolerance. */
	readonly toleranceShare: number | null;
	readonly move: {
		readonly axis: Axis;
		/** How the picture goes when the move is right, in `view`. */
		readonly direction: Direction;
		readonly view: View;
		/** Sign of the number to type or dial; null where this axis's sign has not been tried. */
		readonly sign: 1 | -1 | null;
		/** Size of the move, ≥ 0. */
		readonly amountM: number;
		/** How much of `errorM` it takes away if it goes the right way (same sign as `errorM`): the loop needs it. */
		readonly correctsM: number;
	};
	/** Set where the result is larger than the view or a limit: ask whether the reading is right before saying the move. */
	readonly questioned?: MoveWords;
	/** Sentences in order: the move first, then how far off, then cautions. */
	readonly words: readonly MoveWords[];
}

/** Why no move is said: what does not work here, or each input that is missing or out of range. */
export interface MoveRefused {
	readonly refused: readonly Words[];
}

export interface Move {
	/** Axis moved unless the settings say another. */
	readonly axis: Axis;
	/** Readings by name; SI unit m or rad. */
	readonly readings: Readonly<
		Record<
			string,
			{ readonly unit: 'm' | 'rad'; readonly signed: boolean; readonly required: boolean }
		>
	>;
	reckon(readings: Readonly<Record<string, Measured>>, settings: MoveSettings): MoveTold | MoveRefused;
}
