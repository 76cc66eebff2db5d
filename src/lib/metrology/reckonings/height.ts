import { declareMove } from '../declareMove';
import { heightFromBothTiltsM, heightM, heightOffAxisM, ridingZViews, sineStep } from '../geometry';
import { columnAngle, offset, tilt, triedSign } from '../inputs';
import type { Refusal } from '../reckoning';

/** Heights: from the ion view, with a Z axis that rides on the tilt, and from tilting. */

/** Smallest lever (a sine) at which a reading is still used: below it a reading's error would grow more than tenfold. Our choice. */
const leastLever = 0.1;

/** Whether a positive tilt moves a feature above the axis up in the electron view: without it too high or too low cannot be told. */
const tiltSign = triedSign;
const untried: Refusal = { refused: { key: 'tiltUntried', parameters: {} } };

/**
 * Corrects the height from where the feature sits in the ion view, once X and Y are right.
 * |Δz| = |v|/sinθ; with Δy left in the electron view: Δz = (Δy·cosθ − v)/sinθ (derived: the ion view shows v = Δy·cosθ − Δz·sinθ).
 * `error`: height to correct, positive where the feature sits high (+) in the ion view.
 */
export const heightFromIonShift = declareMove({
	name: 'height-from-ion-shift',
	axis: 'stageZ',
	inputs: {
		/** distance of the feature above (+) or below (−) the centre of the ion view */
		shift: offset({}),
		/** offset left in the electron view, up (+) */
		electronOffset: offset({ default: 0 }),
		columnAngle
	},
	outputs: { height: { dimension: 'length', usual: 'µm' } },
	compute({ shift, electronOffset, columnAngle }) {
		const height = heightM(shift, electronOffset, columnAngle);
		return { error: -height, height };
	},
	denominators: ({ columnAngle }) => ({ sinTheta: Math.sin(columnAngle) }),
	found: (_, { error }, { sign, raises }) => ({
		axis: 'stageZ',
		view: 'ion',
		errorM: error,
		seenM: -error,
		sign,
		raises
	})
});

/**
 * Corrects the height with a Z axis that rides on the tilt, where that works.
 * δ = −v/sin(T − θ); the electron view goes δ·sinT with it (derived: the ion view moves δ·sin(T − θ), the electron view δ·sinT).
 * `error`: move along the riding axis that is missing, positive where the feature sits high (+) in the ion view.
 */
export const ridingZ = declareMove({
	name: 'z-on-tilt',
	axis: 'stageZ',
	inputs: {
		/** distance of the feature above (+) or below (−) the centre of the ion view */
		shift: offset({}),
		/** stage tilt, positive towards the ion column */
		tilt: tilt({}),
		columnAngle
	},
	outputs: { electronFollows: { dimension: 'length', usual: 'µm' } },
	compute({ shift, tilt, columnAngle }) {
		const lever = Math.sin(tilt - columnAngle);
		if (Math.abs(lever) < leastLever)
			return {
				refused: { key: 'alongIonBeam', parameters: { tiltRad: tilt, columnRad: columnAngle, changeRad: Math.asin(leastLever) } }
			};
		return {
			error: shift / Math.abs(lever),
			electronFollows: ridingZViews(-shift / lever, tilt, columnAngle).electronM
		};
	},
	denominators: ({ tilt, columnAngle }) => ({ lever: Math.sin(tilt - columnAngle) }),
	found: ({ tilt, columnAngle }, { error, electronFollows }, { sign, raises }) => {
		// the sign is tried below the column's angle; beyond it a riding axis goes the other way in the ion view
		const flips = tilt > columnAngle;
		return {
			axis: 'stageZ',
			view: 'ion',
			errorM: error,
			seenM: -error,
			sign: sign === undefined ? undefined : flips ? (-sign as 1 | -1) : sign,
			raises,
			after:
				electronFollows === 0 ? [] : [{ key: 'electronFollows', parameters: { followsM: Math.abs(electronFollows) } }]
		};
	}
});

/**
 * Finds the height off the tilt axis from how far a feature wanders when the stage tilts.
 * h = (Δy − y₀·(cosT₂ − cosT₁))/(sinT₂ − sinT₁) (derived: Δy = h·(sinT₂ − sinT₁) + y₀·(cosT₂ − cosT₁)).
 * `error`: height of the feature above the tilt axis.
 */
export const heightFromTilt = declareMove({
	name: 'height-from-tilt',
	axis: 'stageZ',
	inputs: {
		/** how far the feature went up (+) or down (−) in the electron view */
		shift: offset({}),
		/** tilt before */
		tiltFrom: tilt({}),
		/** tilt after */
		tiltTo: tilt({}),
		/** distance of the feature from the tilt axis in the electron view, up (+) */
		lateral: offset({ default: 0 }),
		tiltSign
	},
	outputs: {},
	compute({ shift, tiltFrom, tiltTo, lateral, tiltSign }) {
		if (tiltSign === 'untried') return untried;
		const turn = tiltSign === '+' ? 1 : -1;
		const lever = sineStep(turn * tiltFrom, turn * tiltTo);
		if (Math.abs(lever) < leastLever / 2)
			return { refused: { key: 'tiltTooSmall', parameters: { fromRad: tiltFrom, toRad: tiltTo, sine: leastLever / 2 } } };
		return { error: heightOffAxisM(shift, turn * tiltFrom, turn * tiltTo, lateral) };
	},
	denominators: ({ tiltFrom, tiltTo }) => ({ sineStep: sineStep(tiltFrom, tiltTo) }),
	found: (_, { error }, { raises }) => ({
		axis: 'stageZ',
		view: 'side',
		errorM: error,
		seenM: -error,
		sign: raises,
		raises
	})
});

/**
 * Finds the height off the tilt axis from −T and +T, whatever the distance from the axis.
 * h = Δy/(2·sinT) (derived: cos(T) = cos(−T), so the lateral offset cancels).
 * `error`: height of the feature above the tilt axis.
 */
export const heightFromBothTilts = declareMove({
	name: 'height-from-plus-minus-tilt',
	axis: 'stageZ',
	inputs: {
		/** how far the feature went up (+) or down (−) in the electron view from −T to +T */
		shift: offset({}),
		/** T */
		tilt: tilt({ min: Math.PI / 180 }),
		tiltSign
	},
	outputs: {},
	compute({ shift, tilt, tiltSign }) {
		if (tiltSign === 'untried') return untried;
		return { error: heightFromBothTiltsM(shift, tiltSign === '+' ? tilt : -tilt) };
	},
	denominators: ({ tilt }) => ({ sinT: Math.sin(tilt) }),
	found: (_, { error }, { raises }) => ({
		axis: 'stageZ',
		view: 'side',
		errorM: error,
		seenM: -error,
		sign: raises,
		raises
	})
});
