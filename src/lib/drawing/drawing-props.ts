import type { Values } from './parameters';

/** What every drawing is given: its values and the room it has, CSS px; `letterPx` is the font size of its words. */
export interface DrawingProps {
	readonly values: Values;
	readonly widthPx: number;
	readonly letterPx: number;
	/** Values by which the scale is chosen: those from the beginning of a drag while one goes on, so that the ground stands still. */
	readonly scaleBy: Values;
}
