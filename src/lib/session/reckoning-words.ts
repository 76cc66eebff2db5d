import type { Input, InputSource } from '$lib/metrology/reckoning';
import * as m from '$lib/paraglide/messages';
import { moveInputs } from './move-words';
import { materialText } from './rate-words';

/** Names of the sums, their inputs, results and options, in the language of the screen. */

interface Titled {
	readonly title: () => string;
	readonly why: () => string;
	/** Inputs that mean something else here than elsewhere. */
	readonly inputs?: Readonly<Record<string, () => string>>;
	/** Results that mean something of their own here. */
	readonly outputs?: Readonly<Record<string, () => string>>;
}

const titles: Readonly<Record<string, Titled>> = {
	'half-difference': {
		title: m.reckon_title_half_difference,
		why: m.reckon_why_half_difference,
		outputs: { error: m.reckon_out_error_gaps }
	},
	'height-from-ion-shift': {
		title: m.reckon_title_height_from_ion_shift,
		why: m.reckon_why_height_from_ion_shift,
		inputs: { shift: m.reckon_in_shift_ion },
		outputs: { error: m.reckon_out_error_ion }
	},
	'z-on-tilt': {
		title: m.reckon_title_z_on_tilt,
		why: m.reckon_why_z_on_tilt,
		inputs: { shift: m.reckon_in_shift_ion, tilt: m.reckon_in_tilt_to_ion },
		outputs: { error: m.reckon_out_error_riding }
	},
	'z-on-tilt-views': {
		title: m.reckon_title_z_on_tilt_views,
		why: m.reckon_why_z_on_tilt_views,
		inputs: { tilt: m.reckon_in_tilt_to_ion }
	},
	'ion-shift': { title: m.reckon_title_ion_shift, why: m.reckon_why_ion_shift },
	'height-from-tilt': {
		title: m.reckon_title_height_from_tilt,
		why: m.reckon_why_height_from_tilt,
		inputs: { shift: m.reckon_in_shift_wander },
		outputs: { error: m.reckon_out_error_axis }
	},
	'height-from-plus-minus-tilt': {
		title: m.reckon_title_height_from_plus_minus_tilt,
		why: m.reckon_why_height_from_plus_minus_tilt,
		inputs: { shift: m.reckon_in_shift_wander, tilt: m.reckon_in_tilt_either },
		outputs: { error: m.reckon_out_error_axis }
	},
	'coincidence-residue': {
		title: m.reckon_title_coincidence_residue,
		why: m.reckon_why_coincidence_residue,
		outputs: { error: m.reckon_out_error_residue }
	},
	'depth-from-apparent': { title: m.reckon_title_depth_from_apparent, why: m.reckon_why_depth_from_apparent },
	'thickness-from-apparent': {
		title: m.reckon_title_thickness_from_apparent,
		why: m.reckon_why_thickness_from_apparent,
		inputs: { tilt: m.reckon_in_tilt_edge }
	},
	'tilt-clearance': {
		title: m.reckon_title_tilt_clearance,
		why: m.reckon_why_tilt_clearance,
		inputs: { tilt: m.reckon_in_tilt_wanted }
	},
	'lens-clearance': {
		title: m.reckon_title_lens_clearance,
		why: m.reckon_why_lens_clearance,
		inputs: { least: m.reckon_in_least_space, tilt: m.reckon_in_tilt_wanted }
	},
	'time-trench': { title: m.reckon_title_time_trench, why: m.reckon_why_time_trench },
	'time-rectangle': { title: m.reckon_title_time_rectangle, why: m.reckon_why_time_rectangle },
	'time-polygon': { title: m.reckon_title_time_polygon, why: m.reckon_why_time_polygon },
	'time-cleaning-cut': { title: m.reckon_title_time_cleaning_cut, why: m.reckon_why_time_cleaning_cut },
	'time-deposit': { title: m.reckon_title_time_deposit, why: m.reckon_why_time_deposit },
	'current-density': { title: m.reckon_title_current_density, why: m.reckon_why_current_density },
	'current-for-density': { title: m.reckon_title_current_for_density, why: m.reckon_why_current_for_density, inputs: { density: m.reckon_in_density_wanted } },
	'depth-in-time': { title: m.reckon_title_depth_in_time, why: m.reckon_why_depth_in_time },
	passes: { title: m.reckon_title_passes, why: m.reckon_why_passes },
	'rate-from-cut': {
		title: m.reckon_title_rate_from_cut,
		why: m.reckon_why_rate_from_cut,
		inputs: { depth: m.reckon_in_depth_or_height }
	},
	'rate-from-yield': { title: m.reckon_title_rate_from_yield, why: m.reckon_why_rate_from_yield }
};

const inputs: Readonly<Record<string, () => string>> = {
	...moveInputs,
	dy: m.reckon_in_dy,
	dz: m.reckon_in_dz,
	move: m.reckon_in_move,
	apparent: m.reckon_in_apparent,
	least: m.reckon_in_least,
	most: m.reckon_in_most,
	workingDistance: m.reckon_in_working_distance,
	reach: m.reckon_in_reach,
	above: m.reckon_in_above,
	length: m.reckon_in_length,
	width: m.reckon_in_width,
	depth: m.reckon_in_depth,
	height: m.reckon_in_height,
	thickness: m.reckon_in_thickness,
	shape: m.reckon_in_shape,
	current: m.reckon_in_current,
	material: m.reckon_in_material,
	rate: m.reckon_in_rate,
	redeposition: m.reckon_in_redeposition,
	corners: m.reckon_in_corners,
	repeats: m.reckon_in_repeats,
	time: m.reckon_in_time,
	density: m.reckon_in_density,
	yield: m.reckon_in_yield,
	molarMass: m.reckon_in_molar_mass,
	spot: m.reckon_in_spot,
	overlap: m.reckon_in_overlap,
	dwell: m.reckon_in_dwell
};

const outputs: Readonly<Record<string, () => string>> = {
	error: m.reckon_out_error,
	height: m.reckon_out_height,
	electronFollows: m.reckon_out_electron_follows,
	shift: m.reckon_out_shift,
	ion: m.reckon_out_ion,
	electron: m.reckon_out_electron,
	shiftRight: m.reckon_out_shift_right,
	share: m.reckon_out_share,
	may: m.reckon_out_may,
	depth: m.reckon_out_depth,
	thickness: m.reckon_out_thickness,
	margin: m.reckon_out_margin,
	free: m.reckon_out_free,
	clearance: m.reckon_out_clearance,
	time: m.reckon_out_time,
	volume: m.reckon_out_volume,
	timeLeast: m.reckon_out_time_least,
	timeMost: m.reckon_out_time_most,
	density: m.reckon_out_density,
	current: m.reckon_out_current,
	rate: m.reckon_out_rate,
	pass: m.reckon_out_pass,
	points: m.reckon_out_points,
	passes: m.reckon_out_passes
};

const yesNo: ReadonlySet<string> = new Set(['may', 'free']);
const rising: Readonly<Record<string, readonly [plus: () => string, minus: () => string]>> = {
	sign: [m.reckon_option_plus, m.reckon_option_minus],
	raises: [m.reckon_option_higher, m.reckon_option_lower],
	tiltSign: [m.reckon_option_up, m.reckon_option_down]
};
const options: Readonly<Record<string, () => string>> = {
	untried: m.reckon_option_untried,
	probeX: m.reckon_option_probe_x,
	stageX: m.reckon_option_stage_x,
	wedge: m.reckon_option_wedge,
	box: m.reckon_option_box,
	own: m.reckon_option_own
};

export const reckoningTitle = (name: string): string => titles[name]?.title() ?? name;
export const reckoningWhy = (name: string): string => titles[name]?.why() ?? '';
/** An input's name; `reckoning` where it means something of its own there. */
export const inputLabel = (name: string, reckoning?: string): string => (titles[reckoning ?? '']?.inputs?.[name] ?? inputs[name])?.() ?? name;
export const outputLabel = (name: string, reckoning?: string): string => (titles[reckoning ?? '']?.outputs?.[name] ?? outputs[name])?.() ?? name;

/** An option in words: a sign says which way, a material its name with the process where it is a deposit. */
export function optionText(input: string, option: string): string {
	const way = option === '+' ? rising[input]?.[0] : option === '-' ? rising[input]?.[1] : undefined;
	if (way) return way();
	return options[option]?.() ?? materialText(option);
}

/** A result that is a yes or a no is said as one. */
export const yesNoText = (output: string, value: number): string | null => (yesNo.has(output) ? (value === 1 ? m.reckon_yes() : m.reckon_no()) : null);

/** Groups of the list, in order. */
export const reckoningGroups: readonly { readonly title: () => string; readonly names: readonly string[] }[] = [
	{ title: m.reckon_group_moves, names: ['half-difference', 'height-from-ion-shift', 'z-on-tilt', 'height-from-tilt', 'height-from-plus-minus-tilt', 'coincidence-residue'] },
	{ title: m.reckon_group_sizes, names: ['depth-from-apparent', 'thickness-from-apparent', 'ion-shift', 'z-on-tilt-views'] },
	{ title: m.reckon_group_clearance, names: ['tilt-clearance', 'lens-clearance'] },
	{ title: m.reckon_group_cuts, names: ['time-trench', 'time-rectangle', 'time-polygon', 'time-cleaning-cut', 'depth-in-time', 'passes'] },
	{ title: m.reckon_group_deposits, names: ['time-deposit', 'current-density', 'current-for-density'] },
	{ title: m.reckon_group_rates, names: ['rate-from-cut', 'rate-from-yield'] }
];

/** Inputs that are read at the instrument each time stand first; settings and limits stand apart. */
export const isSetting = (name: string, input: Input): boolean => settingSources.has(input.source) || name === 'axis';
const settingSources: ReadonlySet<InputSource> = new Set(['setting', 'magnification', 'signs', 'instrument', 'holder', 'overlap', 'dwell']);
