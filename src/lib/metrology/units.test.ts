import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { acceptedUnits, inUnit, parseQuantity, unitFactor, type Dimension } from './units';

const good = (text: string, dimension: Dimension) => {
	const parsed = parseQuantity(text, dimension);
	if ('wrong' in parsed) throw new Error(parsed.wrong.key);
	return parsed;
};

describe('quantities as people write them', () => {
	it.each([
		['30 µm', 'length', 30e-6],
		['30um', 'length', 30e-6],
		['30 μm', 'length', 30e-6],
		['-12,5 nm', 'length', -12.5e-9],
		['−3mm', 'length', -3e-3],
		['52°', 'angle', (52 * Math.PI) / 180],
		['52 deg', 'angle', (52 * Math.PI) / 180],
		['0.27 um3/nC', 'volumePerCharge', 0.27e-9],
		['0.27um^3/nC', 'volumePerCharge', 0.27e-9],
		['0.27 µm³/nC', 'volumePerCharge', 0.27e-9],
		['20nA', 'current', 20e-9],
		['4.2 pA/um2', 'currentDensity', 4.2],
		['2 min', 'time', 120],
		['50%', 'ratio', 0.5],
		['.5', 'ratio', 0.5],
		['2.33 g/cm3', 'massDensity', 2330]
	] as const)('U1 reads %s', (text, dimension, value) => {
		expect(good(text, dimension).value).toBeCloseTo(value, 18);
		expect(good(text, dimension).value / value).toBeCloseTo(1, 12);
	});
	it('U2 reads what stands after ± as one standard deviation', () => {
		expect(good('30 ± 1.5 µm', 'length').uncertainty).toBeCloseTo(1.5e-6, 15);
		expect(good('30um±500nm', 'length').uncertainty).toBeCloseTo(0.5e-6, 15);
		expect(good('30um+-5%', 'length').uncertainty).toBeCloseTo(1.5e-6, 15);
		expect(good('30um+/-2', 'length').uncertainty).toBeCloseTo(2e-6, 15);
		expect(good('50% ± 2%', 'ratio').uncertainty).toBeCloseTo(0.02, 12);
		expect(good('0.5 ± 0.1', 'ratio').uncertainty).toBeCloseTo(0.1, 12);
	});
	it('U3 says what was wrong and which units it takes', () => {
		expect(parseQuantity('30', 'length')).toEqual({ wrong: { key: 'noUnit', parameters: { text: '30', dimension: 'length' } } });
		expect(parseQuantity('30 furlong', 'length')).toMatchObject({
			wrong: { key: 'unitRefused', parameters: { unit: 'furlong' } }
		});
		expect(parseQuantity('thirty µm', 'length')).toMatchObject({ wrong: { key: 'noQuantity' } });
		expect(parseQuantity('1e999 m', 'length')).toMatchObject({ wrong: { key: 'tooLarge' } });
		expect(parseQuantity('', 'length')).toHaveProperty('wrong');
		expect(parseQuantity('30 µm ± 2 pA', 'length')).toHaveProperty('wrong');
		expect(parseQuantity('1 constructor', 'length')).toHaveProperty('wrong');
	});
	it('U4 a value written in any unit comes back from it', () => {
		const dimensions: Dimension[] = [
			'length',
			'angle',
			'current',
			'time',
			'volumePerCharge',
			'charge',
			'volume',
			'area'
		];
		fc.assert(
			fc.property(
				fc.constantFrom(...dimensions),
				fc.nat(20),
				fc.double({ min: -1e6, max: 1e6, noNaN: true }),
				(dimension, nth, value) => {
					const units = acceptedUnits(dimension);
					const unit = units[nth % units.length]!;
					const parsed = good(`${value} ${unit}`, dimension);
					expect(inUnit(parsed.value, dimension, unit)).toBeCloseTo(value, 6);
					expect(unitFactor(dimension, unit)).toBeGreaterThan(0);
				}
			),
			{ seed: 601 }
		);
	});
});
