import { expect, it } from 'vitest';
import { unitCode } from '$lib/record/unit-codes';

/**
 * UN/ECE Recommendation 20 (Codes for Units of Measure Used in International Trade), revision 17 of 2021, annexes II and III, as
 * published by UN/CEFACT: github.com/uncefact/vocab-codes, CLR/Rec20/current, 2024-08-14. Name, common code and symbol of each.
 */
const recommendation: readonly [name: string, code: string, symbol: string][] = [
	['nanometre', 'C45', 'nm'], ['micrometre (micron)', '4H', 'µm'], ['millimetre', 'MMT', 'mm'], ['centimetre', 'CMT', 'cm'], ['metre', 'MTR', 'm'],
	['degree [unit of angle]', 'DD', '°'], ['radian', 'C81', 'rad'], ['millisecond', 'C26', 'ms'], ['second [unit of time]', 'SEC', 's'], ['minute [unit of time]', 'MIN', 'min'], ['hour', 'HUR', 'h'],
	['percent', 'P1', '%'], ['picoampere', 'C70', 'pA'], ['nanoampere', 'C39', 'nA'], ['microampere', 'B84', 'µA'], ['milliampere', '4K', 'mA'], ['ampere', 'AMP', 'A'],
	['volt', 'VLT', 'V'], ['kilovolt', 'KVT', 'kV'], ['electronvolt', 'A53', 'eV'], ['kiloelectronvolt', 'B29', 'keV'], ['pascal', 'PAL', 'Pa'], ['millibar', 'MBR', 'mbar'],
	['kelvin', 'KEL', 'K'], ['degree Celsius', 'CEL', '°C'], ['kilogram', 'KGM', 'kg'], ['gram', 'GRM', 'g'], ['milligram', 'MGM', 'mg']
];

it.each(recommendation)('%s is %s, written %s', (_, code, symbol) => expect(unitCode(symbol)).toBe(code));
it('µ is the same written as the micro sign (U+00B5) and as the Greek letter (U+03BC)', () => expect(unitCode('\u03bcm')).toBe(unitCode('\u00b5m')));
it('a unit that the recommendation has not is given by its text alone', () => expect([unitCode('px'), unitCode('toString'), unitCode('')]).toEqual([null, null, null]));
