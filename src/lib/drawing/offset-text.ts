import { lengthText } from '$lib/metrology/quantityText';
import * as m from '$lib/paraglide/messages';

/** How far a feature is from the centre, one line a direction; empty where nothing is known. Lengths in m. */
export function offsetWords(rightM: number | undefined, upM: number | undefined): string[] {
	if (rightM === undefined && upM === undefined) return [];
	const words = [
		...(rightM ? [m.drawing_off_x({ length: lengthText(Math.abs(rightM)), direction: rightM > 0 ? m.drawing_right() : m.drawing_left() })] : []),
		...(upM ? [m.drawing_off_x({ length: lengthText(Math.abs(upM)), direction: upM > 0 ? m.drawing_up() : m.drawing_down() })] : [])
	];
	return words.length > 0 ? words : [m.drawing_centred()];
}

/** The same in one phrase: "12 µm right, 3 µm up", "centred", "not measured". */
export function offsetText(rightM: number | undefined, upM: number | undefined): string {
	const [first, second] = offsetWords(rightM, upM);
	if (first === undefined) return m.drawing_not_measured();
	return second === undefined ? first : m.drawing_and({ first, second });
}
