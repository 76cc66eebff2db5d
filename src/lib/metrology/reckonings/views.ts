import { declareMove } from '../declareMove';
import { ionShiftM, ridingZViews } from '../geometry';
import { columnAngle, offset, size, tilt } from '../inputs';
import { declare } from '../reckoning';

/** What the two views show of each other, and what is left between them. */

export const ionShift = declare({
	name: 'ion-shift',
	purpose: 'Says where the ion view shows a displacement.',
	formula: 'v = Δy·cosθ − Δz·sinθ',
	source: 'derived: projection along the ion beam',
	inputs: {
		dy: offset('displacement along y, up (+) in the electron view', {}),
		dz: offset('displacement along z, towards the electron column (+)', {}),
		columnAngle
	},
	outputs: { shift: { what: 'shift in the ion view', dimension: 'length', usual: 'µm' } },
	compute: ({ dy, dz, columnAngle }) => ({ shift: ionShiftM(dy, dz, columnAngle) }),
	say: (_, { shift }) => [{ key: 'ionShift', parameters: { shiftM: shift } }]
});

export const ridingViews = declare({
	name: 'z-on-tilt-views',
	purpose: 'Says what both views see when a Z axis that rides on the tilt moves.',
	formula: 'ion view δ·sin(T − θ), electron view δ·sinT',
	source: 'derived: the axis points along (sinT, cosT) in y and z',
	inputs: {
		move: offset('move of the Z axis', {}),
		tilt: tilt('stage tilt, positive towards the ion column', {}),
		columnAngle
	},
	outputs: {
		ion: { what: 'shift in the ion view', dimension: 'length', usual: 'µm' },
		electron: { what: 'shift in the electron view', dimension: 'length', usual: 'µm' }
	},
	compute({ move, tilt, columnAngle }) {
		const { ionM, electronM } = ridingZViews(move, tilt, columnAngle);
		return { ion: ionM, electron: electronM };
	},
	say: (_, { ion, electron }) => [{ key: 'ridingViews', parameters: { ionM: ion, electronM: electron } }]
});

/** Each direction by itself: beam shift has two axes, each with the range. */
export const residue = declareMove({
	name: 'coincidence-residue',
	purpose: 'Says whether beam shift may take the offset left between the views, and which.',
	formula: 'shift = −offset; share = max(|right|, |up|)/range',
	source: 'derived; that beam shift and nothing mechanical takes it: common practice, no source',
	axis: 'beamShiftY',
	error: 'offset left up (+) in the ion view',
	inputs: {
		right: offset('offset left in the ion view, right (+)', { default: 0 }),
		up: offset('offset left in the ion view, up (+)', {}),
		range: size('how far beam shift reaches to either side', { source: 'setting of the instrument' })
	},
	outputs: {
		shiftRight: { what: 'beam shift to the right', dimension: 'length', usual: 'µm' },
		share: { what: 'part of the range used', dimension: 'ratio', usual: '%', exact: true },
		may: { what: '1 where beam shift may take it, else 0', dimension: 'ratio', usual: '', exact: true }
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
