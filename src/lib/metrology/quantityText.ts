import { inUnit, type Dimension } from './units';

/** How a quantity in SI is written for people: three significant figures, in the unit they use at the instrument. */

/** Length in m → nm below 0.95 µm, µm below 1 mm, else mm. Keeps the sign; a true minus sign is used. */
export function lengthText(lengthM: number): string {
	const size = Math.abs(lengthM);
	if (size !== 0 && size < 0.95e-6) return `${figures(lengthM * 1e9)} nm`;
	if (size < 0.9995e-3) return `${figures(lengthM * 1e6)} µm`;
	return `${figures(lengthM * 1e3)} mm`;
}

/** Position of a stage in m → mm to a tenth of a micrometre, as consoles show it. */
export function positionText(positionM: number): string {
	return `${(positionM * 1e3).toFixed(4).replace('-', '−')} mm`;
}

/** Angle in rad → degrees. */
export function angleText(angleRad: number): string {
	return `${figures((angleRad * 180) / Math.PI)}°`;
}

/** Time in s → "45.2 s", "5 min 47 s", "3 h 20 min". */
export function timeText(timeS: number): string {
	if (timeS < 90) return `${figures(timeS)} s`;
	const seconds = Math.round(timeS);
	if (seconds < 3600)
		return seconds % 60 === 0 ? `${seconds / 60} min` : `${Math.floor(seconds / 60)} min ${seconds % 60} s`;
	const minutes = Math.round(timeS / 60);
	return `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}

/** Three significant figures without an exponent where that reads well (1234 stays 1234), minus as U+2212. */
export function figures(value: number): string {
	if (value === 0) return '0';
	const size = Math.abs(value);
	const text =
		size >= 1e6 || size < 1e-3
			? value.toExponential(2)
			: size >= 100
				? value.toFixed(0)
				: String(Number(value.toPrecision(3)));
	return text.replace('-', '−');
}

/** A quantity in SI in a unit its dimension accepts, as "12.5 µm", "52°", "50 %". */
export function quantityText(valueSi: number, dimension: Dimension, unit: string): string {
	const text = figures(inUnit(valueSi, dimension, unit));
	return unit === '' || unit === '°' ? text + unit : `${text} ${unit}`;
}
