import type { Axis, Direction, View } from '$lib/metrology/axes';
import { acceptedUnits, type Dimension } from '$lib/metrology/units';
import type { MoveKey, MoveWords } from '$lib/metrology/words';
import * as m from '$lib/paraglide/messages';
import { axisText, directionText, viewText } from './axis-words';
import { said, type IdTexts, type Sentences } from './said';

/** What an adjust step says, in the language of the screen. */

const sentences: Sentences<MoveKey> = {
	move: m.move_move,
	moveSigned: m.move_move_signed,
	moveUntried: m.move_move_untried,
	moveCapped: m.move_move_capped,
	within: m.move_within,
	offBy: m.move_off_by,
	offByUnstated: m.move_off_by_unstated,
	noiseFloor: m.move_noise_floor,
	beyondView: m.move_beyond_view,
	beyondLimit: m.move_beyond_limit,
	electronFollows: m.move_electron_follows,
	beamShiftMay: m.move_beam_shift_may,
	beamShiftMayNot: m.move_beam_shift_may_not,
	wouldPress: m.move_would_press,
	alongIonBeam: m.move_along_ion_beam,
	tiltTooSmall: m.move_tilt_too_small,
	tiltUntried: m.move_tilt_untried,
	tooUncertain: m.move_too_uncertain,
	tooUncertainForMove: m.move_too_uncertain_for_move,
	noSuchInput: m.move_no_such_input,
	quantityMissing: m.move_quantity_missing,
	outOfRange: m.move_out_of_range,
	choiceMissing: m.move_choice_missing,
	noSuchOption: m.move_no_such_option,
	badUncertainty: m.move_bad_uncertainty
};

/** Names of the inputs that moves have. */
export const moveInputs: Readonly<Record<string, () => string>> = {
	gapLeft: m.reckon_in_gap_left,
	gapRight: m.reckon_in_gap_right,
	axis: m.reckon_in_axis,
	sign: m.reckon_in_sign,
	raises: m.reckon_in_raises,
	tolerance: m.reckon_in_tolerance,
	viewHalf: m.reckon_in_view_half,
	limit: m.reckon_in_limit,
	shift: m.reckon_in_shift,
	electronOffset: m.reckon_in_electron_offset,
	columnAngle: m.reckon_in_column_angle,
	tilt: m.reckon_in_tilt,
	tiltFrom: m.reckon_in_tilt_from,
	tiltTo: m.reckon_in_tilt_to,
	lateral: m.reckon_in_lateral,
	tiltSign: m.reckon_in_tilt_sign,
	right: m.reckon_in_right,
	up: m.reckon_in_up,
	range: m.reckon_in_range
};

/** "µm, nm, mm, cm or m". */
export function unitsText(dimension: Dimension): string {
	const units = acceptedUnits(dimension).map((unit) => unit || m.sum_unit_none());
	const last = units.pop() ?? '';
	return units.length === 0 ? last : units.join(', ') + m.words_or() + last;
}

export type InputLabel = (input: string) => string;

export const idTexts = (label: InputLabel): IdTexts => ({
	axis: (axis) => axisText(axis as Axis),
	direction: (direction) => directionText(direction as Direction),
	view: (view) => viewText(view as View),
	dimension: (dimension) => unitsText(dimension as Dimension),
	input: label
});

const moveLabel: InputLabel = (input) => moveInputs[input]?.() ?? input;

/** The sentence for words of a move; `label` names an input that they speak of. */
export const moveText = (words: MoveWords, label: InputLabel = moveLabel): string => said(sentences, words, idTexts(label));

export const isMoveWords = (words: { readonly key: string }): words is MoveWords => Object.hasOwn(sentences, words.key);
