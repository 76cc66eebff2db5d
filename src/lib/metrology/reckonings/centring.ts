import { declareMove } from '../declareMove';
import { size } from '../inputs';
import { seenAs } from '../axes';

/** Jaws around a shank: the gap on either side, and half the difference. */
export const halfDifference = declareMove({
	name: 'half-difference',
	purpose: 'Centres the jaws on the shank from the gap on either side.',
	formula: 'move = (left − right)/2, since jaws moved right by d leave left − d and right + d',
	source: 'derived',
	axis: 'probeX',
	error: 'how far the shank sits to the right of the jaws’ middle',
	inputs: {
		gapLeft: size('gap between the left jaw and the shank, electron view', { min: 0 }),
		gapRight: size('gap between the shank and the right jaw, electron view', { min: 0 }),
		axis: {
			kind: 'choice',
			options: ['probeX', 'stageX'],
			default: 'probeX',
			source: 'common practice, no source',
			what: 'what moves: the jaws (probe) or the shank (stage)'
		}
	},
	outputs: {},
	compute({ gapLeft, gapRight, axis, sign }) {
		if (sign === 'untried' && (gapLeft === 0 || gapRight === 0))
			return {
				refused: `one gap is 0 and the sign of ${axis} has not been tried: a wrong move would press; try the sign first`
			};
		return { error: (gapLeft - gapRight) / 2 };
	},
	found({ gapLeft, gapRight, axis }, { error }, { sign }) {
		return {
			axis,
			view: seenAs[axis].view,
			errorM: error,
			// the jaws go with the error, the shank against it
			seenM: axis === 'probeX' ? error : -error,
			sign,
			// an untried sign may send it the wrong way: half the smaller gap cannot touch
			...(sign === undefined ? { capM: Math.min(gapLeft, gapRight) / 2 } : {})
		};
	}
});
