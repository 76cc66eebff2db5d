import type { RateInUse } from '$lib/metrology/calibration';
import { rateRow } from '$lib/metrology/rates';
import * as m from '$lib/paraglide/messages';

/** Where rates and windows are from, as people are told; the table's own comments (src/lib/metrology/rates.ts) say the same. */

const rates: Readonly<Record<string, () => string>> = {
	Si: m.rate_source_si,
	SiO2: m.rate_source_liao,
	Si3N4: m.rate_source_liao,
	Al: m.rate_source_al,
	Cr: m.rate_source_liao,
	Au: m.rate_source_liao,
	GaAs: m.rate_source_gaas,
	steel: m.rate_source_steel,
	Cu: m.rate_source_cu,
	W: m.rate_source_w,
	C: m.rate_source_c,
	Pt: m.rate_source_pt,
	'Pt-ion': m.rate_source_weak,
	'W-ion': m.rate_source_w_ion,
	'C-ion': m.rate_source_weak,
	'Pt-electron': m.rate_source_electron,
	'C-electron': m.rate_source_electron
};
const windows: Readonly<Record<string, () => string>> = { 'Pt-ion': m.rate_window_pt_ion, 'W-ion': m.rate_window_weak, 'C-ion': m.rate_window_weak };

/** A material by its formula or name; a deposit with the beam that grows it. */
export function materialText(id: string): string {
	if (id === 'steel') return m.rate_material_steel();
	const row = rateRow(id);
	if (!row || row.process === 'mill') return id;
	return row.process === 'ion deposit' ? m.rate_material_by_ions({ material: row.material }) : m.rate_material_by_electrons({ material: row.material });
}

/** Source of a material's default rate. */
export const rateSourceText = (material: string): string => rates[material]?.() ?? material;
/** Source of the window of current density of a deposit. */
export const windowSourceText = (material: string): string => windows[material]?.() ?? material;

/** Source of the rate in use. */
export function rateInUseText(material: string, { from, cuts }: RateInUse): string {
	const source = rateSourceText(material);
	if (from === 'default') return source;
	return from === 'own cuts' ? m.rate_source_own({ count: cuts }) : m.rate_source_both({ count: cuts, source });
}
