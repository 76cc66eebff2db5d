import { seenAs, type Axis, type Direction, type Sign, type View } from '$lib/metrology/axes';
import type { TriedAxis } from '$lib/metrology/signTrial';
import * as m from '$lib/paraglide/messages';

/** Axes, views and directions in the language of the screen. */

const axes: Readonly<Record<TriedAxis, () => string>> = {
	stageX: m.axis_stage_x,
	stageY: m.axis_stage_y,
	stageZ: m.axis_stage_z,
	stageZRaises: m.axis_stage_z_raises,
	stageTilt: m.axis_stage_tilt,
	probeX: m.axis_probe_x,
	probeY: m.axis_probe_y,
	probeZ: m.axis_probe_z,
	beamShiftX: m.axis_beam_shift_x,
	beamShiftY: m.axis_beam_shift_y
};
const views: Readonly<Record<View, () => string>> = { electron: m.view_electron, ion: m.view_ion, side: m.view_side };
const directions: Readonly<Record<Direction, () => string>> = { right: m.trial_right, left: m.trial_left, up: m.trial_up, down: m.trial_down };

export const axisText = (axis: TriedAxis): string => axes[axis]();
export const viewText = (view: View): string => views[view]();
export const directionText = (direction: Direction): string => directions[direction]();

/** "right in the electron view": what a positive number does; "not tried" without a sign. */
export function signText(axis: TriedAxis, sign: Sign | undefined): string {
	if (sign === undefined) return m.instrument_sign_untried();
	const { view, positive } = axis === 'stageZRaises' ? ({ view: 'side', positive: 'up' } as const) : seenAs[axis satisfies Axis];
	const [plus, minus]: readonly [Direction, Direction] = positive === 'right' ? ['right', 'left'] : ['up', 'down'];
	return m.instrument_sign({ direction: directionText(sign > 0 ? plus : minus), view: viewText(view) });
}
