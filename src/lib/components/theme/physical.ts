/**
 * Sizes in the world, not on the screen: letters by viewing distance, targets in millimetres.
 * Letter height H = 2·D·tan(M/2) (ISO 9241-3; NUREG-0700 r2 1.3.1-4). It is the height of a capital; a font size is an em.
 */

/** Width of an ID-1 card, mm (ISO/IEC 7810). */
export const CARD_WIDTH_MM = 85.6;
/** CSS's own definition, 96 px an inch: taken until a screen has been calibrated, and wrong on most. */
export const UNCALIBRATED_PX_PER_MM = 96 / 25.4;
/** Capital height ÷ em of B612 regular and bold: 1500 of 2000 units in the font's OS/2 table (physical.test.ts reads the file). */
export const CAPITAL_PER_EM = 0.75;

/** Smallest letters of Walk, and the step's own, in arc minutes. */
export const TEXT_ARC_MINUTES = 16;
export const STEP_ARC_MINUTES = 22;
/** Where the far view is read from, m. */
export const FAR_DISTANCE_M = 2;

/** Capital height in mm that is seen under `arcMinutes` from `distanceM`. Throws RangeError where either is not positive. */
export function letterHeightMm(distanceM: number, arcMinutes: number): number {
	if (!(distanceM > 0)) throw new RangeError(`viewing distance is ${distanceM} m; expected a distance above 0`);
	if (!(arcMinutes > 0)) throw new RangeError(`letter height is ${arcMinutes} arc minutes; expected an angle above 0`);
	const angleRad = (arcMinutes / 60) * (Math.PI / 180);
	return 2 * distanceM * 1000 * Math.tan(angleRad / 2);
}

/** Arc minutes under which a capital of `heightMm` is seen from `distanceM`. */
export const arcMinutes = (heightMm: number, distanceM: number): number =>
	((2 * Math.atan(heightMm / (2 * distanceM * 1000)) * 180) / Math.PI) * 60;

/** CSS px per mm from the width, in CSS px, at which the outline matched a bank card. */
export function pxPerMmFromCard(cardWidthPx: number): number {
	if (!(cardWidthPx > 0)) throw new RangeError(`the card is ${cardWidthPx} px wide; expected a width above 0`);
	return cardWidthPx / CARD_WIDTH_MM;
}

/** Font size in CSS px whose capitals are at least `arcMin` from `distanceM`; rounded up to a tenth, never down. */
export function fontSizePx(distanceM: number, arcMin: number, pxPerMm: number): number {
	const exact = (letterHeightMm(distanceM, arcMin) / CAPITAL_PER_EM) * pxPerMm;
	return Math.ceil(exact * 10 - 1e-9) / 10;
}

export interface Viewing {
	/** CSS px per mm; null where the screen has not been calibrated. */
	readonly pxPerMm: number | null;
	readonly distanceM: number;
}

/** The theme's physical custom properties for this screen and distance, as an inline style for the outermost element. */
export function physicalStyle({ pxPerMm, distanceM }: Viewing): string {
	const scale = pxPerMm ?? UNCALIBRATED_PX_PER_MM;
	const px = (value: number) => `${value}px`;
	return Object.entries({
		'--mm': px(scale),
		'--letter': px(fontSizePx(distanceM, TEXT_ARC_MINUTES, scale)),
		'--letter-step': px(fontSizePx(distanceM, STEP_ARC_MINUTES, scale)),
		'--letter-far': px(fontSizePx(Math.max(FAR_DISTANCE_M, distanceM), TEXT_ARC_MINUTES, scale))
	})
		.map(([name, value]) => `${name}: ${value}`)
		.join('; ');
}
