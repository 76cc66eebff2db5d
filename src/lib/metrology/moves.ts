import type { Axis } from './axes';
import type { Move } from './move';
import { halfDifference } from './reckonings/centring';
import { heightFromBothTilts, heightFromIonShift, heightFromTilt, ridingZ } from './reckonings/height';
import { residue } from './reckonings/views';

export type { Measured, Move, MoveRefused, MoveSettings, MoveTold } from './move';
export { judgeRounds, noiseFloorM, type LoopState, type Round } from './rounds';
export type { Words } from './words';

export type MoveName =
	| 'half-difference'
	| 'height-from-ion-shift'
	| 'z-on-tilt'
	| 'height-from-tilt'
	| 'height-from-plus-minus-tilt'
	| 'coincidence-residue';

/**
 * The moves an adjust step can name. Each takes readings by name and the instrument's settings, and says the next move, or why
 * there is none. The formulas are the reckonings' of the same name.
 */
export const moves: Readonly<Record<MoveName, Move>> = {
	'half-difference': halfDifference.move,
	'height-from-ion-shift': heightFromIonShift.move,
	'z-on-tilt': ridingZ.move,
	'height-from-tilt': heightFromTilt.move,
	'height-from-plus-minus-tilt': heightFromBothTilts.move,
	'coincidence-residue': residue.move
};

/** Whether a procedure's text names a move that exists. */
export const isMoveName = (name: string): name is MoveName => Object.hasOwn(moves, name);

/** The axis that a reckoning's move is made with: the one chosen, else its own; null where it is no move. */
export const axisMoved = (name: string, chosen?: string): Axis | null =>
	isMoveName(name) ? ((chosen as Axis | undefined) || moves[name].axis) : null;
