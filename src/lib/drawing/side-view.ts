import { angleText, lengthText } from '$lib/metrology/quantityText';
import * as m from '$lib/paraglide/messages';
import type { DrawingProps } from './drawing-props';
import type { Handle } from './handle';
import type { ParameterSpec, Values } from './parameters';
import { sceneOf, type Spot } from './side-scenes';

const length: ParameterSpec = { kind: 'length', unit: 'µm', min: -1e6, max: 1e6 };
const angle: ParameterSpec = { kind: 'angle', unit: '°', min: -90, max: 90 };

/**
 * The plane in which the stage tilts, seen along the tilt axis: electrons come from above, ions from the right. Angles are true;
 * lengths are to one scale.
 */
export const sideViewSpec: Readonly<Record<string, ParameterSpec>> = {
	subject: { kind: 'choice', options: { 'two tilts': [], 'riding axis': [], 'tilt limits': [], lens: [], face: [], edge: [] } },
	columnAngle: angle,
	tilt: angle,
	tiltFrom: angle,
	tiltTo: angle,
	least: angle,
	most: angle,
	/** Of the feature above the tilt axis, and beside it. */
	height: length,
	lateral: length,
	/** What a view showed: between two tilts, or above the centre of the ion view. */
	shift: length,
	/** Along the riding axis. */
	move: length,
	/** As measured in the electron view, and what it is in truth. */
	apparent: length,
	truth: length,
	workingDistance: length,
	reach: length,
	above: length,
	/** Space that must remain below the lens. */
	space: length
};

const names: Readonly<Record<string, () => string>> = {
	columnAngle: m.drawing_side_column_angle,
	tilt: m.drawing_side_tilt,
	tiltFrom: m.drawing_side_tilt_from,
	tiltTo: m.drawing_side_tilt_to,
	least: m.drawing_side_least,
	most: m.drawing_side_most,
	height: m.drawing_side_height,
	lateral: m.drawing_side_lateral,
	shift: m.drawing_side_shift,
	move: m.drawing_side_move,
	apparent: m.drawing_side_apparent,
	truth: m.drawing_side_truth,
	workingDistance: m.drawing_side_working_distance,
	reach: m.drawing_side_reach,
	above: m.drawing_side_above,
	space: m.drawing_side_space
};

/** A parameter's name on the drawing. */
export const sideName = (parameter: string): string => names[parameter]?.() ?? parameter;
export const sideValueText = (parameter: string, value: number): string => (sideViewSpec[parameter]?.kind === 'angle' ? angleText(value) : lengthText(value));

export function sideViewAlt({ numbers }: Values): string {
	const known = Object.entries(numbers).map(([name, value]) => m.drawing_side_says({ name: sideName(name), value: sideValueText(name, value) }));
	return known.length === 0 ? m.drawing_side_nothing_alt() : m.drawing_side_alt({ known: known.join(', ') });
}

/** Where the plane lies on the drawing. */
export interface SideLayout {
	readonly height: number;
	/** Height of the axis on the drawing. */
	readonly axisPx: number;
	readonly pxPerM: number;
	place(spot: Spot): Spot;
}

export function sideLayout({ widthPx, letterPx, scaleBy }: DrawingProps): SideLayout {
	const height = Math.min(widthPx * 0.8, letterPx * 17);
	const margin = letterPx * 2.2;
	const { reachM, axisAt } = sceneOf(scaleBy);
	const axisPx = axisAt * height;
	const pxPerM = (Math.min(widthPx / 2, Math.max(axisPx, height - axisPx)) - margin) / reachM;
	return { height, axisPx, pxPerM, place: ([y, z]) => [widthPx / 2 + y * pxPerM, axisPx - z * pxPerM] };
}

export function sideViewHandles(props: DrawingProps): readonly Handle[] {
	const { axisPx, pxPerM, place } = sideLayout(props);
	const { numbers } = props.values;
	return sceneOf(props.values, sceneOf(props.scaleBy).reachM).grips.map((grip): Handle => {
		const [x, y] = place(grip.at);
		const says = grip.parameters.map((name) => (numbers[name] === undefined ? m.drawing_not_measured() : sideValueText(name, numbers[name]))).join(', ');
		return {
			id: grip.parameters.join(' '),
			x,
			y,
			along: grip.along,
			label: m.drawing_side_move_point({ name: grip.parameters.map(sideName).join(', ') }),
			says,
			at: (toX, toY) => grip.given((toX - props.widthPx / 2) / pxPerM, (axisPx - toY) / pxPerM)
		};
	});
}
