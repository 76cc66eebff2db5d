/**
 * The axes a move can name, and the signs of one instrument.
 *
 * A sign is +1 where a positive number on the axis moves what is seen in the axis's view in the named direction, −1 where
 * it moves it the other way. That is the one thing a person can see without knowing any convention: the guided trial
 * (signTrial.ts) asks for nothing else. Signs belong to an instrument and its scan rotation: always a setting.
 */
export type View = 'electron' | 'ion' | 'side';
export type Direction = 'left' | 'right' | 'up' | 'down';
export type Axis =
	'stageX' | 'stageY' | 'stageZ' | 'stageTilt' | 'probeX' | 'probeY' | 'probeZ' | 'beamShiftX' | 'beamShiftY';

/** The direction a positive sign means, and the view it is seen in. */
export const seenAs: Readonly<Record<Axis, { view: View; positive: 'right' | 'up' }>> = {
	stageX: { view: 'electron', positive: 'right' },
	stageY: { view: 'electron', positive: 'up' },
	stageZ: { view: 'ion', positive: 'up' },
	stageTilt: { view: 'electron', positive: 'up' },
	probeX: { view: 'electron', positive: 'right' },
	probeY: { view: 'electron', positive: 'up' },
	probeZ: { view: 'ion', positive: 'up' },
	beamShiftX: { view: 'ion', positive: 'right' },
	beamShiftY: { view: 'ion', positive: 'up' }
};

export type Sign = 1 | -1;

/**
 * Signs of one instrument; a missing one has not been tried. `stageZRaises` is +1 where a larger Z number is a higher
 * stage (seen by the side camera): without it the guide never says "up" or "down" for the stage itself.
 */
export type Signs = Readonly<Partial<Record<Axis | 'stageZRaises', Sign>>>;

const opposite: Readonly<Record<Direction, Direction>> = { left: 'right', right: 'left', up: 'down', down: 'up' };

/** Direction seen in the axis's view when the picture is to go by `seenM` (positive: right or up). */
export function seenDirection(axis: Axis, seenM: number): Direction {
	const { positive } = seenAs[axis];
	return seenM >= 0 ? positive : opposite[positive];
}
