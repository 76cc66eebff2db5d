import { lensClearanceM } from '../geometry';
import { offset, size, tilt } from '../inputs';
import { declare } from '../reckoning';

/**
 * Clearances, from settings alone: without the instrument's and the holder's own limits there is no answer, because a guess that is
 * wrong drives the stage into a lens.
 */

const fixed = { source: 'holder' } as const;

/**
 * Says whether a tilt is within the limits set for this holder.
 * margin = min(T − least, most − T) (derived).
 */
export const tiltClearance = declare({
	name: 'tilt-clearance',
	inputs: {
		/** tilt wanted */
		tilt: tilt({}),
		/** smallest tilt allowed */
		least: tilt(fixed),
		/** largest tilt allowed */
		most: tilt(fixed)
	},
	outputs: {
		/** tilt to spare; negative where it is beyond */
		margin: { dimension: 'angle', usual: '°' },
		/** 1 where the tilt is allowed, else 0 */
		free: { dimension: 'ratio', usual: '', exact: true }
	},
	compute({ tilt, least, most }) {
		if (least > most) return { refused: { key: 'tiltLimitsSwapped', parameters: {} } };
		const margin = Math.min(tilt - least, most - tilt);
		return { margin, free: margin >= 0 ? 1 : 0 };
	},
	// a minimum has a kink where both margins are equal: draws tell the spread there
	denominators: ({ tilt, least, most }) => ({ kink: most - tilt - (tilt - least) }),
	say: ({ tilt }, { margin }) =>
		margin >= 0
			? [{ key: 'tiltFree', parameters: { tiltRad: tilt, marginRad: margin } }]
			: [{ key: 'tiltBlocked', parameters: { tiltRad: tilt, overRad: -margin } }]
});

/**
 * Says how much space is left between the holder’s highest point and the lens at a tilt.
 * clearance = working distance − (reach·sin|T| + above·cosT) (derived: height of a point of the holder that turns about the tilt axis at the coincidence point).
 */
export const lensClearance = declare({
	name: 'lens-clearance',
	inputs: {
		/** distance from the lens to the coincidence point */
		workingDistance: size({ usual: 'mm', max: 0.1, ...fixed }),
		/** distance of the highest point from the tilt axis, on the side that rises */
		reach: size({ usual: 'mm', min: 0, max: 0.1, ...fixed }),
		/** height of that point above the tilt axis at tilt 0 */
		above: offset({ usual: 'mm', min: -0.1, max: 0.1, ...fixed }),
		/** tilt wanted */
		tilt: tilt({}),
		/** space that must remain */
		least: size({ usual: 'mm', max: 0.1, ...fixed })
	},
	outputs: {
		/** space between holder and lens; negative: they would touch */
		clearance: { dimension: 'length', usual: 'mm' },
		/** 1 where at least the space asked for remains, else 0 */
		free: { dimension: 'ratio', usual: '', exact: true }
	},
	compute({ workingDistance, reach, above, tilt, least }) {
		const clearance = lensClearanceM(workingDistance, reach, above, tilt);
		return { clearance, free: clearance >= least ? 1 : 0 };
	},
	// sin|T| has a kink at 0
	denominators: ({ tilt, reach }) => ({ kink: reach === 0 ? 1 : tilt }),
	say: ({ least }, { clearance }) => [
		{ key: clearance >= least ? 'lensFree' : 'lensBlocked', parameters: { clearanceM: clearance, leastM: least } } as const
	]
});
