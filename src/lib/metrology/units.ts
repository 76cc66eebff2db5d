import type { Words } from './words';

/**
 * Units as people write them, and their SI values. SI inside; converted here and nowhere else.
 * Factors: SI brochure, 9th ed. (2019), table 7 (prefixes) and table 8 (minute, hour, degree, litre not used).
 */

export type Dimension =
	| 'length'
	| 'area'
	| 'volume'
	| 'angle'
	| 'current'
	| 'currentDensity'
	| 'charge'
	| 'time'
	| 'volumePerCharge'
	| 'volumePerTime'
	| 'massDensity'
	| 'molarMass'
	| 'ratio';

/** Per dimension: the SI unit's name, and what people may write with its factor to SI. The first is the usual one. */
const table: Readonly<Record<Dimension, { si: string; units: Readonly<Record<string, number>> }>> = {
	length: { si: 'm', units: { µm: 1e-6, nm: 1e-9, mm: 1e-3, cm: 1e-2, m: 1 } },
	area: { si: 'm²', units: { 'µm²': 1e-12, 'nm²': 1e-18, 'mm²': 1e-6, 'm²': 1 } },
	volume: { si: 'm³', units: { 'µm³': 1e-18, 'nm³': 1e-27, 'mm³': 1e-9, 'm³': 1 } },
	angle: { si: 'rad', units: { '°': Math.PI / 180, deg: Math.PI / 180, mrad: 1e-3, rad: 1 } },
	current: { si: 'A', units: { pA: 1e-12, nA: 1e-9, µA: 1e-6, mA: 1e-3, A: 1 } },
	currentDensity: { si: 'A/m²', units: { 'pA/µm²': 1, 'nA/µm²': 1e3, 'A/m²': 1 } },
	charge: { si: 'C', units: { nC: 1e-9, pC: 1e-12, µC: 1e-6, mC: 1e-3, C: 1 } },
	time: { si: 's', units: { min: 60, s: 1, ms: 1e-3, µs: 1e-6, ns: 1e-9, h: 3600 } },
	volumePerCharge: { si: 'm³/C', units: { 'µm³/nC': 1e-9, 'nm³/pC': 1e-15, 'mm³/C': 1e-9, 'm³/C': 1 } },
	volumePerTime: { si: 'm³/s', units: { 'µm³/s': 1e-18, 'µm³/min': 1e-18 / 60, 'm³/s': 1 } },
	massDensity: { si: 'kg/m³', units: { 'g/cm³': 1e3, 'kg/m³': 1 } },
	molarMass: { si: 'kg/mol', units: { 'g/mol': 1e-3, 'kg/mol': 1 } },
	ratio: { si: '', units: { '': 1, '%': 0.01 } }
};

export const siUnit = (dimension: Dimension): string => table[dimension].si;
export const acceptedUnits = (dimension: Dimension): string[] => Object.keys(table[dimension].units);

/** The forms of one unit that a keyboard gives: both micro signs and u, digits for superscripts, ^ before them. */
function plain(unit: string): string {
	return unit
		.replace(/[\u03bcu]/g, 'µ')
		.replace(/\^?2/g, '²')
		.replace(/\^?3/g, '³')
		.replace(/^(degrees?|º|grad)$/, 'deg');
}

/** Factor from `unit` to SI, or undefined where the dimension does not take it. */
export function unitFactor(dimension: Dimension, unit: string): number | undefined {
	const { units } = table[dimension];
	return Object.hasOwn(units, unit) ? units[unit] : Object.hasOwn(units, plain(unit)) ? units[plain(unit)] : undefined;
}

/** `valueSi` in the named unit. Throws a RangeError for a unit the dimension does not take. */
export function inUnit(valueSi: number, dimension: Dimension, unit: string): number {
	const factor = unitFactor(dimension, unit);
	if (factor === undefined)
		throw new RangeError(`"${unit}" is no unit of ${dimension}; expected one of ${acceptedUnits(dimension).join(', ')}`);
	return valueSi / factor;
}

export interface ParsedQuantity {
	/** SI. */
	readonly value: number;
	/** Standard uncertainty in SI, where one was written. */
	readonly uncertainty?: number;
}

const number = String.raw`[+\-−]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+\-−]?\d+)?`;
const written = new RegExp(
	String.raw`^\s*(${number})\s*([^\d\s±+\-−][^±]*?)?\s*(?:(?:±|\+\/?-)\s*(${number})\s*([^\d\s].*?)?)?\s*$`,
	'u'
);

/**
 * Reads "30 µm", "30um", "-12,5 nm", "30 ± 1.5 µm", "30um±5%" as a quantity of `dimension`. The part after ± is one standard
 * deviation; without a unit of its own it has the value's, and % there is of the value. Returns what was wrong on bad input.
 */
export function parseQuantity(text: string, dimension: Dimension): ParsedQuantity | { readonly wrong: Words } {
	const parts = written.exec(text);
	if (!parts) return { wrong: { key: 'noQuantity', parameters: { text, dimension } } };
	const [, valueText = '', valueUnit, spreadText, spreadUnit] = parts;
	const ofValue = spreadUnit === '%' && dimension !== 'ratio';
	const unit = valueUnit ?? (ofValue ? undefined : spreadUnit) ?? '';
	const factor = unitFactor(dimension, unit);
	if (factor === undefined)
		return {
			wrong: unit === '' ? { key: 'noUnit', parameters: { text, dimension } } : { key: 'unitRefused', parameters: { unit, dimension } }
		};
	const value = toNumber(valueText) * factor;
	if (!Number.isFinite(value)) return { wrong: { key: 'tooLarge', parameters: { text } } };
	if (spreadText === undefined) return { value };
	const spread = Math.abs(toNumber(spreadText));
	if (ofValue) return { value, uncertainty: Math.abs(value) * spread * 0.01 };
	const spreadFactor = spreadUnit === undefined ? factor : unitFactor(dimension, spreadUnit);
	if (spreadFactor === undefined)
		return { wrong: { key: 'spreadUnitRefused', parameters: { unit: spreadUnit ?? '', dimension } } };
	return { value, uncertainty: spread * spreadFactor };
}

const toNumber = (text: string): number => Number(text.replace(',', '.').replaceAll('−', '-'));
