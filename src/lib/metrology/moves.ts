import { seenAs, seenDirection, type Axis } from './axes';
import type { Measured, Move, MoveRefused, MoveSettings, MoveTold } from './move';
import { noiseFloorM } from './rounds';
import type { Words } from './words';

export type { Measured, Move, MoveRefused, MoveSettings, MoveTold } from './move';
export { judgeRounds, type LoopState, type Round } from './rounds';
export { inEnglish, type Words } from './words';

export type MoveName = 'half-difference' | 'height-from-ion-shift';

/**
 * The moves an adjust step can name. Each takes readings by name and the instrument's settings, and says the next move, or
 * why there is none. Derivations: two-beam geometry with the electron axis vertical and tilt about x.
 */
export const moves: Readonly<Record<MoveName, Move>> = {
	/**
	 * Jaws around a shank with gaps l and r: jaws moved right by d leave l − d and r + d, equal at d = (l − r)/2 (derived).
	 * The picture that goes right is the jaws' (probe) or goes left is the shank's (stage): `axis` says which one moves.
	 */
	'half-difference': {
		purpose: 'Centres the jaws on the shank from the gap on either side.',
		readings: {
			gapLeft: { unit: 'm', what: 'gap between the left jaw and the shank, electron view', signed: false },
			gapRight: { unit: 'm', what: 'gap between the shank and the right jaw, electron view', signed: false }
		},
		reckon(readings, settings) {
			const left = read(readings, 'gapLeft', false);
			if ('refused' in left) return left;
			const right = read(readings, 'gapRight', false);
			if ('refused' in right) return right;
			const axis = settings.axis ?? 'probeX';
			if (seenAs[axis].positive !== 'right')
				return { refused: `half-difference compares left with right; axis ${axis} does not move sideways` };
			if (settings.signs?.[axis] === undefined && Math.min(left.value, right.value) === 0)
				return { refused: `one gap is 0 and the sign of ${axis} has not been tried; a wrong move would press: try the sign first` };
			const errorM = (left.value - right.value) / 2;
			const uncertaintyM = Math.hypot(left.uncertainty ?? 0, right.uncertainty ?? 0) / 2;
			// jaws are corrected by going with the error, the shank (stage) by going against it
			const seenM = axis.startsWith('probe') ? errorM : -errorM;
			// an untried sign may send the jaws the wrong way: half the smaller gap cannot touch
			const capM = settings.signs?.[axis] === undefined ? Math.min(left.value, right.value) / 2 : Infinity;
			return tell({ axis, errorM, uncertaintyM, seenM, capM }, settings);
		}
	},
	/** With X and Y right in the electron view, v = −Δz·sinθ, so |Δz| = |v|/sinθ (derived, check-values "two-beam geometry"). */
	'height-from-ion-shift': {
		purpose: 'Corrects the height from where the feature sits in the ion view, once X and Y are right.',
		readings: {
			shift: { unit: 'm', what: 'distance of the feature above (+) or below (−) the centre of the ion view', signed: true }
		},
		reckon(readings, settings) {
			const shift = read(readings, 'shift', true);
			if ('refused' in shift) return shift;
			const angle = settings.columnAngleRad;
			if (angle === undefined) return { refused: 'the column angle is not set; expected above 0° and below 90°' };
			if (!(angle > 0 && angle < Math.PI / 2))
				return { refused: `the column angle is ${((angle * 180) / Math.PI).toPrecision(4)}°; expected above 0° and below 90°` };
			const axis = settings.axis ?? 'stageZ';
			if (seenAs[axis].view !== 'ion' || seenAs[axis].positive !== 'up')
				return { refused: `height is seen as up and down in the ion view; axis ${axis} does not move that way` };
			const errorM = shift.value / Math.sin(angle);
			const uncertaintyM = (shift.uncertainty ?? 0) / Math.sin(angle);
			return tell({ axis, errorM, uncertaintyM, seenM: -errorM, capM: Infinity }, settings);
		}
	}
};

function read(readings: Readonly<Record<string, Measured>>, name: string, signed: boolean): Measured | MoveRefused {
	const reading = readings[name];
	if (!reading) return { refused: `reading "${name}" is missing` };
	if (!Number.isFinite(reading.value)) return { refused: `reading "${name}" is not a number` };
	if (!signed && reading.value < 0) return { refused: `reading "${name}" is a distance; expected 0 or more` };
	if (reading.uncertainty !== undefined && !(reading.uncertainty >= 0 && Number.isFinite(reading.uncertainty)))
		return { refused: `the uncertainty of "${name}" is ${reading.uncertainty}; expected 0 or more` };
	return reading;
}

interface Found {
	axis: Axis;
	errorM: number;
	uncertaintyM: number;
	/** How the picture of the axis is to go, positive right or up. */
	seenM: number;
	/** Largest safe move. */
	capM: number;
}

function tell({ axis, errorM, uncertaintyM, seenM, capM }: Found, settings: MoveSettings): MoveTold {
	const amountM = Math.min(Math.abs(seenM), capM);
	const direction = seenDirection(axis, seenM);
	const { view } = seenAs[axis];
	const tried = settings.signs?.[axis];
	const sign = tried === undefined ? null : ((seenM >= 0 ? tried : -tried) as 1 | -1);
	const toleranceM = settings.toleranceM;
	const toleranceShare = toleranceM === undefined ? null : Math.abs(errorM) / toleranceM;
	const words: Words[] = [];
	if (toleranceShare !== null && toleranceShare <= 1)
		words.push({ key: 'within', parameters: { errorM: Math.abs(errorM), toleranceM: toleranceM! } });
	else {
		words.push(moveWords(axis, sign, amountM, settings));
		if (toleranceM !== undefined)
			words.push({ key: 'offBy', parameters: { errorM: Math.abs(errorM), uncertaintyM, toleranceM } });
		if (amountM < Math.abs(seenM)) words.push({ key: 'moveCapped', parameters: {} });
	}
	const floorM = noiseFloorM(uncertaintyM);
	if (toleranceM !== undefined && floorM > toleranceM) words.push({ key: 'noiseFloor', parameters: { floorM } });
	const questioned = question(amountM, settings);
	return {
		errorM,
		uncertaintyM,
		toleranceShare,
		move: { axis, direction, view, sign, amountM, correctsM: Math.sign(errorM) * amountM },
		...(questioned === undefined ? {} : { questioned }),
		words
	};

	function moveWords(axis: Axis, sign: 1 | -1 | null, amountM: number, { signs }: MoveSettings): Words {
		if (sign === null) return { key: 'moveUntried', parameters: { axis, amountM, direction, view } };
		if (axis === 'stageZ' && signs?.stageZRaises !== undefined)
			return { key: 'move', parameters: { axis, amountM, direction: sign * signs.stageZRaises > 0 ? 'up' : 'down' } };
		if (axis !== 'stageZ') return { key: 'move', parameters: { axis, amountM, direction } };
		return { key: 'moveSigned', parameters: { axis, signedM: sign * amountM, direction, view } };
	}
}

function question(amountM: number, { viewHalfM, limitM }: MoveSettings): Words | undefined {
	if (viewHalfM !== undefined && amountM > viewHalfM) return { key: 'beyondView', parameters: { amountM, viewHalfM } };
	if (limitM !== undefined && amountM > limitM) return { key: 'beyondLimit', parameters: { amountM, limitM } };
	return undefined;
}
