import { lengthText } from '$lib/metrology/quantityText';
import * as m from '$lib/paraglide/messages';

/** How far a feature is from the centre, in words: "12 µm right, 3 µm up", "centred", "not measured". Lengths in m. */
export function offsetText(rightM: number | undefined, upM: number | undefined): string {
	if (rightM === undefined && upM === undefined) return m.drawing_not_measured();
	const words = [
		...(rightM ? [m.drawing_off_x({ length: lengthText(Math.abs(rightM)), direction: rightM > 0 ? m.drawing_right() : m.drawing_left() })] : []),
		...(upM ? [m.drawing_off_x({ length: lengthText(Math.abs(upM)), direction: upM > 0 ? m.drawing_up() : m.drawing_down() })] : [])
	];
	if (words.length === 0) return m.drawing_centred();
	return words.length === 1 ? (words[0] as string) : m.drawing_and({ first: words[0] as string, second: words[1] as string });
}
