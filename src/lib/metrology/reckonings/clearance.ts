import { lensClearanceM } from '../geometry';
import { offset, size, tilt } from '../inputs';
import { declare } from '../reckoning';

/**
 * Clearances, from settings alone: without the instrument's and the holder's own limits there is no answer, because a guess that is
 * wrong drives the stage into a lens.
 */

const fixed = { source: 'setting of the holder and instrument; no default on purpose' } as const;

export const tiltClearance = declare({
	name: 'tilt-clearance',
	purpose: 'Says whether a tilt is within the limits set for this holder.',
	formula: 'margin = min(T − least, most − T)',
	source: 'derived',
	inputs: {
		tilt: tilt('tilt wanted', {}),
		least: tilt('smallest tilt allowed', fixed),
		most: tilt('largest tilt allowed', fixed)
	},
	outputs: {
		margin: { what: 'tilt to spare; negative where it is beyond', dimension: 'angle', usual: '°' },
		free: { what: '1 where the tilt is allowed, else 0', dimension: 'ratio', usual: '', exact: true }
	},
	compute({ tilt, least, most }) {
		if (least > most) return { refused: 'the smallest tilt allowed is larger than the largest: check the settings' };
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

export const lensClearance = declare({
	name: 'lens-clearance',
	purpose: 'Says how much space is left between the holder’s highest point and the lens at a tilt.',
	formula: 'clearance = working distance − (reach·sin|T| + above·cosT)',
	source: 'derived: height of a point of the holder that turns about the tilt axis at the coincidence point',
	inputs: {
		workingDistance: size('distance from the lens to the coincidence point', { usual: 'mm', max: 0.1, ...fixed }),
		reach: size('distance of the highest point from the tilt axis, on the side that rises', {
			usual: 'mm',
			min: 0,
			max: 0.1,
			...fixed
		}),
		above: offset('height of that point above the tilt axis at tilt 0', { usual: 'mm', min: -0.1, max: 0.1, ...fixed }),
		tilt: tilt('tilt wanted', {}),
		least: size('space that must remain', { usual: 'mm', max: 0.1, ...fixed })
	},
	outputs: {
		clearance: { what: 'space between holder and lens; negative: they would touch', dimension: 'length', usual: 'mm' },
		free: { what: '1 where at least the space asked for remains, else 0', dimension: 'ratio', usual: '', exact: true }
	},
	compute({ workingDistance, reach, above, tilt, least }) {
		const clearance = lensClearanceM(workingDistance, reach, above, tilt);
		return { clearance, free: clearance >= least ? 1 : 0 };
	},
	// sin|T| has a kink at 0
	denominators: ({ tilt, reach }) => ({ kink: reach === 0 ? 1 : tilt }),
	say: ({ least }, { clearance }) => [
		{ key: clearance >= least ? 'lensFree' : 'lensBlocked', parameters: { clearanceM: clearance, leastM: least } }
	]
});
