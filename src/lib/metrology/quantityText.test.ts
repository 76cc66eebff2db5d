import { describe, expect, it } from 'vitest';
import { angleText, lengthText, quantityText, timeText } from './quantityText';

describe('quantities as people read them', () => {
	it.each([
		[38.07e-6, '38.1 µm'],
		[-38.07e-6, '−38.1 µm'],
		[120e-9, '120 nm'],
		[0.96e-6, '0.96 µm'],
		[5.134e-3, '5.13 mm'],
		[0, '0 µm']
	])('QT1 %f m → %s', (lengthM, text) => expect(lengthText(lengthM)).toBe(text));
	it.each([
		[45.21, '45.2 s'],
		[347.2, '5 min 47 s'],
		[720, '12 min'],
		[12_000, '3 h 20 min'],
		[3599.6, '1 h 0 min']
	])('QT2 %f s → %s', (timeS, text) => expect(timeText(timeS)).toBe(text));
	it('QT3 angles in degrees, others in the unit asked for', () => {
		expect(angleText(Math.PI / 6)).toBe('30°');
		expect(quantityText(0.27e-9, 'volumePerCharge', 'µm³/nC')).toBe('0.27 µm³/nC');
		expect(quantityText(Math.PI / 2, 'angle', '°')).toBe('90°');
	});
});
