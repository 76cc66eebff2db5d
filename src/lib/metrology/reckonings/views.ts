import { declareMove } from '../declareMove';
import { ionShiftM, ridingZViews } from '../geometry';
import { columnAngle, offset, size, tilt } from '../inputs';
import { declare } from '../reckoning';

/** What the two views show of each other, and what is left between them. */

/**
 * Says where the ion view shows a displacement.
 * v = Δy·cosθ − Δz·sinθ (derived: projection along the ion beam).
 */
export const ionShift = declare({
	name: 'ion-shift',
	inputs: {
		/** displacement along y, up (+) in the electron view */
		dy: offset({}),
		/** displacement along z, towards the electron column (+) */
		dz: offset({}),
		columnAngle
	},
	outputs: { shift: { dimension: 'length', usual: 'µm' } },
	compute: ({ dy, dz, columnAngle }) => ({ shift: ionShiftM(dy, dz, columnAngle) }),
	say: (_, { shift }) => [{ key: 'ionShift', parameters: { shiftM: shift } }]
});

/**
 * Says what both views see when a Z axis that rides on the tilt moves.
 * ion view δ·sin(T − θ), electron view δ·sinT (derived: the axis points along (sinT, cosT) in y and z).
 */
export const ridingViews = declare({
	name: 'z-on-tilt-views',
	inputs: {
		/** move of the Z axis */
		move: offset({}),
		/** stage tilt, positive towards the ion column */
		tilt: tilt({}),
		columnAngle
	},
	outputs: {
		/** shift in the ion view */
		ion: { dimension: 'length', usual: 'µm' },
		/** shift in the electron view */
		electron: { dimension: 'length', usual: 'µm' }
	},
	compute({ move, tilt, columnAngle }) {
		const { ionM, electronM } = ridingZViews(move, tilt, columnAngle);
		return { ion: ionM, electron: electronM };
	},
	say: (_, { ion, electron }) => [{ key: 'ridingViews', parameters: { ionM: ion, electronM: electron } }]
});

/** Each direction by itself: beam shift has two axes, each with the range. */
/**
 * Says whether beam shift may take the offset left between the views, and which.
 * shift = −offset; share = max(|right|, |up|)/range (derived; that beam shift and nothing mechanical takes it: common practice, no source).
 * `error`: offset left up (+) in the ion view.
 */
export const residue = declareMove({
	name: 'coincidence-residue',
	axis: 'beamShiftY',
	inputs: {
		/** offset left in the ion view, right (+) */
		right: offset({ default: 0 }),
		/** offset left in the ion view, up (+) */
		up: offset({}),
		/** how far beam shift reaches to either side */
		range: size({ source: 'instrument' })
	},
	outputs: {
		/** beam shift to the right */
		shiftRight: { dimension: 'length', usual: 'µm' },
		/** part of the range used */
		share: { dimension: 'ratio', usual: '%', exact: true },
		/** 1 where beam shift may take it, else 0 */
		may: { dimension: 'ratio', usual: '', exact: true }
	},
	compute({ right, up, range }) {
		const share = Math.max(Math.abs(right), Math.abs(up)) / range;
		return { error: up, shiftRight: -right, share, may: share <= 1 ? 1 : 0 };
	},
	denominators: ({ range }) => ({ range }),
	found: (_, { error, share, may }, { sign }) => ({
		axis: 'beamShiftY',
		view: 'ion',
		errorM: error,
		seenM: -error,
		sign,
		after: [{ key: may === 1 ? 'beamShiftMay' : 'beamShiftMayNot', parameters: { sharePercent: 100 * share } }]
	})
});
