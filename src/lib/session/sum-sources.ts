import type { Input, InputSource } from '$lib/metrology/reckoning';
import { rangeOf } from '$lib/metrology/solve';
import * as m from '$lib/paraglide/messages';
import { unitsText } from './move-words';

/** Formulas of the sums and where they and their inputs are from, as people are told. */

const formulas: Readonly<Record<string, () => string>> = {
'half-difference': m.sum_formula_half_difference,
	'height-from-ion-shift': m.sum_formula_height_from_ion_shift,
	'z-on-tilt': m.sum_formula_z_on_tilt,
	'z-on-tilt-views': m.sum_formula_z_on_tilt_views,
	'ion-shift': m.sum_formula_ion_shift,
	'height-from-tilt': m.sum_formula_height_from_tilt,
	'height-from-plus-minus-tilt': m.sum_formula_height_from_plus_minus_tilt,
	'coincidence-residue': m.sum_formula_coincidence_residue,
	'depth-from-apparent': m.sum_formula_depth_from_apparent,
	'thickness-from-apparent': m.sum_formula_thickness_from_apparent,
	'tilt-clearance': m.sum_formula_tilt_clearance,
	'lens-clearance': m.sum_formula_lens_clearance,
	'time-trench': m.sum_formula_time_trench,
	'time-rectangle': m.sum_formula_time_rectangle,
	'time-polygon': m.sum_formula_time_polygon,
	'time-cleaning-cut': m.sum_formula_time_cleaning_cut,
	'time-deposit': m.sum_formula_time_deposit,
	'current-density': m.sum_formula_current_density,
	'current-for-density': m.sum_formula_current_for_density,
	'depth-in-time': m.sum_formula_depth_in_time,
	passes: m.sum_formula_passes,
	'rate-from-cut': m.sum_formula_rate_from_cut,
	'rate-from-yield': m.sum_formula_rate_from_yield
};
const sources: Readonly<Record<string, () => string>> = {
	'half-difference': m.sum_source_derived,
	'height-from-ion-shift': m.sum_source_height_from_ion_shift,
	'z-on-tilt': m.sum_source_z_on_tilt,
	'z-on-tilt-views': m.sum_source_z_on_tilt_views,
	'ion-shift': m.sum_source_ion_shift,
	'height-from-tilt': m.sum_source_height_from_tilt,
	'height-from-plus-minus-tilt': m.sum_source_height_from_plus_minus_tilt,
	'coincidence-residue': m.sum_source_coincidence_residue,
	'depth-from-apparent': m.sum_source_depth_from_apparent,
	'thickness-from-apparent': m.sum_source_thickness_from_apparent,
	'tilt-clearance': m.sum_source_derived,
	'lens-clearance': m.sum_source_lens_clearance,
	'time-trench': m.sum_source_charge,
	'time-rectangle': m.sum_source_charge,
	'time-polygon': m.sum_source_charge,
	'time-cleaning-cut': m.sum_source_charge,
	'time-deposit': m.sum_source_charge,
	'current-density': m.sum_source_derived,
	'current-for-density': m.sum_source_derived,
	'depth-in-time': m.sum_source_charge,
	passes: m.sum_source_derived,
	'rate-from-cut': m.sum_source_charge,
	'rate-from-yield': m.sum_source_rate_from_yield
};
const inputSources: Readonly<Record<InputSource, () => string>> = {
	reading: m.sum_from_reading,
	setting: m.sum_from_setting,
	magnification: m.sum_from_magnification,
	signs: m.sum_from_signs,
	instrument: m.sum_from_instrument,
	beam: m.sum_from_beam,
	holder: m.sum_from_holder,
	practice: m.sum_from_practice,
	ownCuts: m.sum_from_own_cuts,
	redeposition: m.sum_from_redeposition,
	rates: m.sum_from_rates,
	literature: m.sum_from_literature,
	overlap: m.sum_from_overlap,
	dwell: m.sum_from_dwell,
	timeReckoned: m.sum_from_time_reckoned,
	window: m.sum_from_window
};

export const formulaText = (sum: string): string => formulas[sum]?.() ?? '';
export const sourceText = (sum: string): string => sources[sum]?.() ?? '';
export const inputSourceText = (source: InputSource): string => inputSources[source]();

/** What an input takes: "0.1 to 100 µm (µm, nm, mm, cm or m)". */
export function expectedText(input: Input): string {
	if (input.kind === 'choice') return input.options.join(m.words_or());
	if (input.kind === 'points') return m.sum_expected_corners({ least: input.least, most: input.most, unit: input.usual });
	return m.sum_expected({ ...rangeOf(input), units: unitsText(input.dimension) });
}
