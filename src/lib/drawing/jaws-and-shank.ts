import { lengthText } from '$lib/metrology/quantityText';
import * as m from '$lib/paraglide/messages';
import type { DrawingProps } from './drawing-props';
import type { Handle } from './handle';
import type { ParameterSpec, Values } from './parameters';

const gap: ParameterSpec = { kind: 'length', unit: 'µm', min: 0, max: 5000 };

/** The gripper's jaws on both sides of the shank in the electron view, with the gap on either side. */
export const jawsSpec: Readonly<Record<string, ParameterSpec>> = {
	gapLeft: gap,
	gapRight: gap,
	/** Half the difference within it counts as equal: no move is drawn. */
	tolerance: { kind: 'length', unit: 'µm', min: 0, max: 50, default: 0 },
	jaws: { kind: 'choice', options: { open: [], closed: ['gripped'] }, default: 'open' },
	/** In the ion view the height of the jaws on the shank is judged, not the gaps. */
	view: { kind: 'choice', options: { electron: [], ion: [] }, default: 'electron' },
	/** What goes with the move: the jaws, or the shank against them. */
	mover: { kind: 'choice', options: { jaws: ['probex'], shank: ['stagex'] }, default: 'jaws' },
	/** The move that was reckoned, where it is smaller than half the difference. */
	goesBy: { kind: 'length', unit: 'µm', min: 0, max: 5000 }
};

/** Jaws moved right by half the difference leave both gaps equal (derived: left − d = right + d). Null while a gap is not known. */
export function halfDifferenceM({ numbers }: Values): number | null {
	const { gapLeft, gapRight } = numbers;
	return gapLeft === undefined || gapRight === undefined ? null : (gapLeft - gapRight) / 2;
}

/** The move that is worth drawing, right (+) for what moves: null where nothing is known or the gaps are equal within the tolerance. */
export function moveToDraw(values: Values): number | null {
	const off = halfDifferenceM(values);
	if (off === null || Math.abs(off) <= (values.numbers.tolerance ?? 0)) return null;
	const move = Math.sign(off) * Math.min(Math.abs(off), values.numbers.goesBy ?? Infinity);
	return values.choices.mover === 'shank' ? -move : move;
}

/**
 * Both gaps in px, to one scale: the larger of `scaleBy` takes `largestPx`; an unknown one is drawn as wide as the known, or at 0.6
 * of it.
 */
export function gapsPx(values: Values, largestPx: number, scaleBy: Values = values): { left: number; right: number; pxPerM: number | null } {
	const { gapLeft, gapRight } = values.numbers;
	const largest = Math.max(scaleBy.numbers.gapLeft ?? 0, scaleBy.numbers.gapRight ?? 0);
	// 1 pm: below it no scale can be made
	if (largest < 1e-12) return { left: gapLeft === 0 ? 0 : largestPx * 0.6, right: gapRight === 0 ? 0 : largestPx * 0.6, pxPerM: null };
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
		return `${gaps} ${(values.choices.mover === 'shank' ? m.drawing_shank_move : m.drawing_jaws_move)({ length: lengthText(Math.abs(move)), direction: move > 0 ? m.drawing_right() : m.drawing_left() })}`;
	return halfDifferenceM(values) === null ? gaps : `${gaps} ${m.drawing_jaws_even({ length: lengthText(tolerance ?? 0) })}`;
}

/** What the drawing's picture is measured out by, px. */
export interface JawsLayout {
	readonly height: number;
	readonly middle: number;
	readonly half: number;
	readonly leftEdge: number;
	readonly rightEdge: number;
	/** Where the gaps are measured. */
	readonly mark: number;
	readonly pxPerM: number | null;
}

export function jawsLayout({ values, widthPx, letterPx, scaleBy }: DrawingProps): JawsLayout {
	const height = Math.max(widthPx * 0.46, letterPx * 7);
	const middle = widthPx / 2;
	const half = widthPx * 0.06;
	const gaps = values.choices.jaws === 'closed' ? { left: 0, right: 0, pxPerM: null } : gapsPx(values, widthPx * 0.2, scaleBy);
	return { height, middle, half, leftEdge: middle - half - gaps.left, rightEdge: middle + half + gaps.right, mark: height * 0.5, pxPerM: gaps.pxPerM };
}

/** A gap that nobody has keyed yet is dragged as if the drawing were this wide. */
const UNSCALED_GAP_M = 10e-6;

/** Either jaw's edge can be moved, to give its gap. */
export function jawsHandles(props: DrawingProps): readonly Handle[] {
	const { values, widthPx } = props;
	if (values.choices.jaws === 'closed' || values.choices.view === 'ion') return [];
	const { middle, half, leftEdge, rightEdge, mark, pxPerM } = jawsLayout(props);
	const scale = pxPerM ?? (widthPx * 0.12) / UNSCALED_GAP_M;
	const says = (gapM: number | undefined): string => (gapM === undefined ? m.drawing_not_measured() : lengthText(gapM));
	return [
		{ id: 'gapLeft', x: leftEdge, y: mark, along: 'x', label: m.drawing_move_gap_left(), says: says(values.numbers.gapLeft), at: (x) => ({ gapLeft: Math.max(0, middle - half - x) / scale }) },
		{ id: 'gapRight', x: rightEdge, y: mark, along: 'x', label: m.drawing_move_gap_right(), says: says(values.numbers.gapRight), at: (x) => ({ gapRight: Math.max(0, x - middle - half) / scale }) }
	];
}
