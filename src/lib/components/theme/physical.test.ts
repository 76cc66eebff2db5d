import { describe, expect, it } from 'vitest';
import {
	arcMinutes,
	CAPITAL_PER_EM,
	CARD_WIDTH_MM,
	fontSizePx,
	letterHeightMm,
	physicalStyle,
	pxPerMmFromCard,
	UNCALIBRATED_PX_PER_MM
} from './physical';

describe('letter heights', () => {
	// ISO 9241-3 and NUREG-0700 r2 1.3.1-4 as tabulated in the project's check values, given to 0.1 mm
	it.each([
		[0.7, 16, 3.3],
		[0.7, 22, 4.5],
		[2, 16, 9.3],
		[2, 22, 12.8]
	])('at %f m, %f arc minutes is %f mm', (distanceM, minutes, mm) => {
		expect(Math.abs(letterHeightMm(distanceM, minutes) - mm)).toBeLessThanOrEqual(0.05);
	});
	it('turns back into the same angle', () => expect(arcMinutes(letterHeightMm(0.7, 16), 0.7)).toBeCloseTo(16, 9));
	it('refuses a distance that is none', () => {
		expect(() => letterHeightMm(0, 16)).toThrow('viewing distance is 0 m; expected a distance above 0');
		expect(() => letterHeightMm(0.7, -1)).toThrow('expected an angle above 0');
	});
	it('never rounds a font below the angle asked for', () => {
		for (const pxPerMm of [3.2, UNCALIBRATED_PX_PER_MM, 5.2, 6.04])
			for (const distanceM of [0.4, 0.7, 1.1, 2]) {
				const capitalMm = (fontSizePx(distanceM, 16, pxPerMm) * CAPITAL_PER_EM) / pxPerMm;
				expect(arcMinutes(capitalMm, distanceM)).toBeGreaterThanOrEqual(16 - 1e-6);
			}
	});
});

describe('the screen’s scale', () => {
	// ISO/IEC 7810: an ID-1 card is 85.60 mm wide
	it('follows from the card', () => {
		expect(CARD_WIDTH_MM).toBe(85.6);
		expect(pxPerMmFromCard(428)).toBe(5);
		expect(() => pxPerMmFromCard(0)).toThrow('expected a width above 0');
	});
	it('is CSS’s own where nothing was calibrated', () => {
		expect(physicalStyle({ pxPerMm: null, distanceM: 0.7 })).toContain(`--mm: ${96 / 25.4}px`);
	});
	it('gives the far view two metres, or more where the person stands farther', () => {
		expect(physicalStyle({ pxPerMm: 5, distanceM: 0.7 })).toContain(`--letter-far: ${fontSizePx(2, 16, 5)}px`);
		expect(physicalStyle({ pxPerMm: 5, distanceM: 3 })).toContain(`--letter-far: ${fontSizePx(3, 16, 5)}px`);
	});
});
