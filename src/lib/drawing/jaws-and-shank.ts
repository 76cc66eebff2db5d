import { lengthText } from '$lib/metrology/quantityText';
import * as m from '$lib/paraglide/messages';
import type { ParameterSpec, Values } from './parameters';

const gap: ParameterSpec = { kind: 'length', unit: 'µm', min: 0, max: 500 };

/** The gripper's jaws on both sides of the shank in the electron view, with the gap on either side. */
export const jawsSpec: Readonly<Record<string, ParameterSpec>> = {
	gapLeft: gap,
	gapRight: gap,
	/** Half the difference within it counts as equal: no move is drawn. */
	tolerance: { kind: 'length', unit: 'µm', min: 0, max: 50, default: 0 },
	jaws: { kind: 'choice', options: { open: [], closed: ['gripped'] }, default: 'open' },
	/** In the ion view the height of the jaws on the shank is judged, not the gaps. */
	view: { kind: 'choice', options: { electron: [], ion: [] }, default: 'electron' }
};

/** Jaws moved right by half the difference leave both gaps equal (derived: left − d = right + d). Null while a gap is not known. */
export function halfDifferenceM({ numbers }: Values): number | null {
	const { gapLeft, gapRight } = numbers;
	return gapLeft === undefined || gapRight === undefined ? null : (gapLeft - gapRight) / 2;
}

/** The move that is worth drawing: null where nothing is known or the gaps are equal within the tolerance. */
export function moveToDraw(values: Values): number | null {
	const move = halfDifferenceM(values);
	return move === null || Math.abs(move) <= (values.numbers.tolerance ?? 0) ? null : move;
}

/** Both gaps in px, to one scale: the larger takes `largestPx`; an unknown one is drawn as wide as the known, or at 0.6 of it. */
export function gapsPx(values: Values, largestPx: number): { left: number; right: number; pxPerM: number | null } {
	const { gapLeft, gapRight } = values.numbers;
	const largest = Math.max(gapLeft ?? 0, gapRight ?? 0);
	if (largest === 0) return { left: gapLeft === 0 ? 0 : largestPx * 0.6, right: gapRight === 0 ? 0 : largestPx * 0.6, pxPerM: null };
	const pxPerM = largestPx / largest;
	return { left: gapLeft === undefined ? largestPx * 0.6 : gapLeft * pxPerM, right: gapRight === undefined ? largestPx * 0.6 : gapRight * pxPerM, pxPerM };
}

/** "348 nm right": which way the jaws go and how far. */
export function moveText(moveM: number): string {
	return m.drawing_jaws_move_short({ length: lengthText(Math.abs(moveM)), direction: moveM > 0 ? m.drawing_right() : m.drawing_left() });
}

export function jawsAlt(values: Values): string {
	const { gapLeft, gapRight, tolerance } = values.numbers;
	if (values.choices.jaws === 'closed') return m.drawing_jaws_closed_alt();
	if (values.choices.view === 'ion') return m.drawing_jaws_ion_alt();
	if (gapLeft === undefined && gapRight === undefined && values.awaited.length === 0) return m.drawing_jaws_open_alt();
	const said = (lengthM: number | undefined) => (lengthM === undefined ? m.drawing_not_measured() : lengthText(lengthM));
	const gaps = m.drawing_jaws_alt({ left: said(gapLeft), right: said(gapRight) });
	const move = moveToDraw(values);
	if (move !== null)
		return `${gaps} ${m.drawing_jaws_move({ length: lengthText(Math.abs(move)), direction: move > 0 ? m.drawing_right() : m.drawing_left() })}`;
	return halfDifferenceM(values) === null ? gaps : `${gaps} ${m.drawing_jaws_even({ length: lengthText(tolerance ?? 0) })}`;
}
