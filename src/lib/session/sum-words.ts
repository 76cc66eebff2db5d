import type { SumKey, Words } from '$lib/metrology/words';
import * as m from '$lib/paraglide/messages';
import { idTexts, isMoveWords, moveText, type InputLabel } from './move-words';
import { rateSourceText, windowSourceText } from './rate-words';
import { inputLabel } from './reckoning-words';
import { said, type Sentences } from './said';

/** What any of the sums says, in the language of the screen and of the command line. */

const sentences: Sentences<SumKey> = {
	ionShift: m.sum_ion_shift,
	ridingViews: m.sum_riding_views,
	apparentBeyondView: m.sum_apparent_beyond_view,
	trueDepth: m.sum_true_depth,
	trueThickness: m.sum_true_thickness,
	tiltFree: m.sum_tilt_free,
	tiltBlocked: m.sum_tilt_blocked,
	lensFree: m.sum_lens_free,
	lensBlocked: m.sum_lens_blocked,
	beamTime: m.sum_beam_time,
	rateFromTable: m.sum_rate_from_table,
	rateFromMemory: m.sum_rate_from_memory,
	longerThanVisit: m.sum_longer_than_visit,
	depthReached: m.sum_depth_reached,
	rateFound: m.sum_rate_found,
	passes: m.sum_passes,
	lessThanOnePass: m.sum_less_than_one_pass,
	density: m.sum_density,
	densityTooHigh: m.sum_density_too_high,
	densityTooLow: m.sum_density_too_low,
	currentWanted: m.sum_current_wanted,
	tiltLimitsSwapped: m.sum_tilt_limits_swapped,
	polygonCrosses: m.sum_polygon_crosses,
	polygonFlat: m.sum_polygon_flat,
	noRate: m.sum_no_rate,
	cornersMissing: m.sum_corners_missing,
	cornerCount: m.sum_corner_count,
	noCorners: m.sum_no_corners,
	cornerBeyond: m.sum_corner_beyond,
	noQuantity: m.sum_no_quantity,
	noUnit: m.sum_no_unit,
	unitRefused: m.sum_unit_refused,
	spreadUnitRefused: m.sum_spread_unit_refused,
	tooLarge: m.sum_too_large
};

/** The sentence for words of a sum; `label` names an input that they speak of. */
export function sumText(words: Words, label: InputLabel = inputLabel): string {
	if (isMoveWords(words)) return moveText(words, label);
	const source = words.key === 'densityTooHigh' || words.key === 'densityTooLow' ? windowSourceText : rateSourceText;
	return said(sentences, words, { ...idTexts(label), material: source });
}
