/** How a quantity in SI is written for people: three significant figures, in the unit they use at the instrument. */

/** Length in m → nm below 0.95 µm, µm below 1 mm, else mm. Keeps the sign; a true minus sign is used. */
export function lengthText(lengthM: number): string {
	const size = Math.abs(lengthM);
	if (size !== 0 && size < 0.95e-6) return `${figures(lengthM * 1e9)} nm`;
	if (size < 0.9995e-3) return `${figures(lengthM * 1e6)} µm`;
	return `${figures(lengthM * 1e3)} mm`;
}

/** Angle in rad → degrees. */
export function angleText(angleRad: number): string {
	return `${figures((angleRad * 180) / Math.PI)}°`;
}

/** Three significant figures without an exponent where that reads well (1234 stays 1234), minus as U+2212. */
export function figures(value: number): string {
	if (value === 0) return '0';
	const size = Math.abs(value);
	const text =
		size >= 1e6 || size < 1e-3 ? value.toExponential(2) : size >= 100 ? value.toFixed(0) : String(Number(value.toPrecision(3)));
	return text.replace('-', '−');
}
