import { declareMove } from '../declareMove';
import { heightFromBothTiltsM, heightM, heightOffAxisM, ridingZViews, sineStep } from '../geometry';
import { columnAngle, offset, tilt } from '../inputs';
import type { Refusal } from '../reckoning';

/** Heights: from the ion view, with a Z axis that rides on the tilt, and from tilting. */

/** Smallest lever (a sine) at which a reading is still used: below it a reading's error would grow more than tenfold. Our choice. */
const leastLever = 0.1;

const tiltSign = {
	kind: 'choice',
	options: ['+', '-', 'untried'],
	default: 'untried',
	source: 'setting: signs of the instrument',
	what: 'whether a positive tilt moves a feature above the axis up in the electron view'
} as const;

export const heightFromIonShift = declareMove({
	name: 'height-from-ion-shift',
	purpose: 'Corrects the height from where the feature sits in the ion view, once X and Y are right.',
	formula: '|Δz| = |v|/sinθ; with Δy left in the electron view: Δz = (Δy·cosθ − v)/sinθ',
	source: 'derived: the ion view shows v = Δy·cosθ − Δz·sinθ',
	axis: 'stageZ',
	error: 'height to correct, positive where the feature sits high (+) in the ion view',
	inputs: {
		shift: offset('distance of the feature above (+) or below (−) the centre of the ion view', {}),
		electronOffset: offset('offset left in the electron view, up (+)', { default: 0 }),
		columnAngle
	},
	outputs: { height: { what: 'height of the feature over the coincidence point', dimension: 'length', usual: 'µm' } },
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

export const ridingZ = declareMove({
	name: 'z-on-tilt',
	purpose: 'Corrects the height with a Z axis that rides on the tilt, where that works.',
	formula: 'δ = −v/sin(T − θ); the electron view goes δ·sinT with it',
	source: 'derived: the ion view moves δ·sin(T − θ), the electron view δ·sinT',
	axis: 'stageZ',
	error: 'move along the riding axis that is missing, positive where the feature sits high (+) in the ion view',
	inputs: {
		shift: offset('distance of the feature above (+) or below (−) the centre of the ion view', {}),
		tilt: tilt('stage tilt, positive towards the ion column', {}),
		columnAngle
	},
	outputs: { electronFollows: { what: 'how far the electron view goes with it', dimension: 'length', usual: 'µm' } },
	compute({ shift, tilt, columnAngle }) {
		const lever = Math.sin(tilt - columnAngle);
		if (Math.abs(lever) < leastLever)
			return refuse(
				`at tilt ${degrees(tilt)} the Z axis runs along the ion beam (${degrees(columnAngle)}): the ion view hardly moves; change the tilt by ${degrees(Math.asin(leastLever))} or more`
			);
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

export const heightFromTilt = declareMove({
	name: 'height-from-tilt',
	purpose: 'Finds the height off the tilt axis from how far a feature wanders when the stage tilts.',
	formula: 'h = (Δy − y₀·(cosT₂ − cosT₁))/(sinT₂ − sinT₁)',
	source: 'derived: Δy = h·(sinT₂ − sinT₁) + y₀·(cosT₂ − cosT₁)',
	axis: 'stageZ',
	error: 'height of the feature above the tilt axis',
	inputs: {
		shift: offset('how far the feature went up (+) or down (−) in the electron view', {}),
		tiltFrom: tilt('tilt before', {}),
		tiltTo: tilt('tilt after', {}),
		lateral: offset('distance of the feature from the tilt axis in the electron view, up (+)', { default: 0 }),
		tiltSign
	},
	outputs: {},
	compute({ shift, tiltFrom, tiltTo, lateral, tiltSign }) {
		if (tiltSign === 'untried') return refuse(untried);
		const turn = tiltSign === '+' ? 1 : -1;
		const lever = sineStep(turn * tiltFrom, turn * tiltTo);
		if (Math.abs(lever) < leastLever / 2)
			return refuse(
				`from ${degrees(tiltFrom)} to ${degrees(tiltTo)} a height hardly shows; tilt further (sines must differ by ${leastLever / 2})`
			);
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

export const heightFromBothTilts = declareMove({
	name: 'height-from-plus-minus-tilt',
	purpose: 'Finds the height off the tilt axis from −T and +T, whatever the distance from the axis.',
	formula: 'h = Δy/(2·sinT)',
	source: 'derived: cos(T) = cos(−T), so the lateral offset cancels',
	axis: 'stageZ',
	error: 'height of the feature above the tilt axis',
	inputs: {
		shift: offset('how far the feature went up (+) or down (−) in the electron view from −T to +T', {}),
		tilt: tilt('T', { min: Math.PI / 180 }),
		tiltSign
	},
	outputs: {},
	compute({ shift, tilt, tiltSign }) {
		if (tiltSign === 'untried') return refuse(untried);
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

const untried =
	'whether + tilt moves a high feature up or down has not been tried on this instrument: too high or too low cannot be told; try the sign first';
const refuse = (reason: string): Refusal => ({ refused: reason });
const degrees = (angleRad: number): string => `${((angleRad * 180) / Math.PI).toFixed(1)}°`;
