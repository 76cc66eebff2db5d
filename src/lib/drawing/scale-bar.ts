import { lengthText } from '$lib/metrology/quantityText';

/** The largest of 1, 2, 5 × 10ⁿ that is not above `most`; most > 0. */
export function roundBelow(most: number): number {
	const decade = 10 ** Math.floor(Math.log10(most));
	const share = most / decade;
	return (share >= 5 ? 5 : share >= 2 ? 2 : 1) * decade;
}

/** The smallest of 1, 2, 5 × 10ⁿ that is not below `least`; least > 0. */
export function roundAbove(least: number): number {
	const below = roundBelow(least);
	// a rounding error must not double a number that is round already
	return below >= least * (1 - 1e-9) ? below : roundBelow(least * 2.5) >= least ? roundBelow(least * 2.5) : 10 * below;
}

/** A bar of a round length that is at most `roomPx` long, with its words. */
export function scaleBar(pxPerM: number, roomPx: number): { readonly px: number; readonly text: string } {
	const lengthM = roundBelow(roomPx / pxPerM);
	return { px: lengthM * pxPerM, text: lengthText(lengthM) };
}
