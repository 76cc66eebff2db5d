import type { InstrumentUsed } from '$lib/metrology/instrument';
import { angleText, lengthText } from '$lib/metrology/quantityText';
import { type ExportWords, fill } from './words/export-words';

/** What the guide went by of the instrument, in one line; empty where nothing was known. */
export function instrumentText({ columnAngleRad, signs = {}, viewHalfM, limitM, beamShiftRangeM, placeToleranceM }: InstrumentUsed, { instrument }: ExportWords): string {
	const tried = Object.entries(signs).map(([axis, sign]) => `${instrument.axes[axis as keyof typeof signs]} ${sign > 0 ? '+' : '−'}`);
	const lengths: readonly (readonly [sentence: string, lengthM: number | undefined])[] = [
		[instrument.viewHalf, viewHalfM],
		[instrument.limit, limitM],
		[instrument.beamShift, beamShiftRangeM],
		[instrument.place, placeToleranceM]
	];
	return [
		...(columnAngleRad === undefined ? [] : [fill(instrument.columnAngle, { angle: angleText(columnAngleRad) })]),
		tried.length ? fill(instrument.signs, { signs: tried.join(', ') }) : instrument.noSigns,
		...lengths.flatMap(([sentence, lengthM]) => (lengthM === undefined ? [] : [fill(sentence, { length: lengthText(lengthM) })]))
	].join('; ');
}
