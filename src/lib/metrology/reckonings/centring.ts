import { declareMove } from '../declareMove';
import { size } from '../inputs';
import { seenAs } from '../axes';

/**
 * Centres the jaws on the shank from the gap on either side.
 * move = (left − right)/2, since jaws moved right by d leave left − d and right + d (derived).
 * `error`: how far the shank sits to the right of the jaws’ middle.
 */
export const halfDifference = declareMove({
	name: 'half-difference',
	axis: 'probeX',
	inputs: {
		/** gap between the left jaw and the shank, electron view */
		gapLeft: size({ min: 0 }),
		/** gap between the shank and the right jaw, electron view */
		gapRight: size({ min: 0 }),
		/** what moves: the jaws (probe) or the shank (stage) */
		axis: { kind: 'choice', options: ['probeX', 'stageX'], default: 'probeX', source: 'practice' }
	},
	outputs: {},
	compute({ gapLeft, gapRight, axis, sign }) {
		if (sign === 'untried' && (gapLeft === 0 || gapRight === 0))
			return {
				refused: { key: 'wouldPress', parameters: { axis } }
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
