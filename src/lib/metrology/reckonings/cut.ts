import { crossesItself, onePass, polygonAreaM2, polygonAreaUncertaintyM2, rateFromYield } from '../cutting';
import { quantity } from '../inputs';
import { declare } from '../reckoning';
import {
	current,
	cutSize,
	millMaterial,
	questionTime,
	rate,
	redeposition,
	timeOutputs,
	timesFor,
	timeWords
} from './cutInputs';

/** Beam times of cuts, and what goes with them. */

const beam = { current, material: millMaterial, rate, redeposition } as const;
const formula = 'time = volume·redeposition/(rate·current)';
const source = 'derived: charge = current·time, volume = rate·charge';
/** Where a rate is given it is divided by; a row of the table has no error of its own, only a range. */
const dividedBy = ({ current, rate = 1 }: { current: number; rate: number | undefined }) => ({ current, rate });

export const trench = declare({
	name: 'time-trench',
	purpose: 'Beam time of a trench that runs out to nothing (half a box) or of a full one.',
	formula: `volume = length·width·depth, halved for a wedge; ${formula}`,
	source,
	inputs: {
		length: cutSize('length along the lamella'),
		width: cutSize('width away from the lamella'),
		depth: cutSize('depth at the lamella'),
		shape: {
			kind: 'choice',
			options: ['wedge', 'box'],
			default: 'wedge',
			source: 'common practice, no source',
			what: 'wedge: half a box'
		},
		...beam
	},
	outputs: timeOutputs,
	compute: (cut) => timesFor(cut.length * cut.width * cut.depth * (cut.shape === 'wedge' ? 0.5 : 1), cut),
	denominators: dividedBy,
	question: (_, times) => questionTime(times),
	say: timeWords
});

export const rectangle = declare({
	name: 'time-rectangle',
	purpose: 'Beam time of a rectangle cut to one depth.',
	formula: `volume = length·width·depth; ${formula}`,
	source,
	inputs: { length: cutSize('length'), width: cutSize('width'), depth: cutSize('depth'), ...beam },
	outputs: timeOutputs,
	compute: (cut) => timesFor(cut.length * cut.width * cut.depth, cut),
	denominators: dividedBy,
	question: (_, times) => questionTime(times),
	say: timeWords
});

export const polygon = declare({
	name: 'time-polygon',
	purpose: 'Beam time of a polygon cut to one depth.',
	formula: `area by the trapezoid formula over its corners; volume = area·depth; ${formula}`,
	source,
	inputs: {
		corners: {
			kind: 'points',
			usual: 'µm',
			least: 3,
			most: 12,
			max: 5e-3,
			source: 'reading',
			what: 'corners in order'
		},
		depth: cutSize('depth'),
		...beam
	},
	outputs: timeOutputs,
	compute(cut) {
		const { corners, depth } = cut;
		const { area: drawn } = cut as { readonly area?: number };
		if (drawn !== undefined) return timesFor(drawn * depth, cut);
		if (crossesItself(corners))
			return { refused: 'the polygon crosses itself: its area is not what would be cut; give the corners in order' };
		const area = Math.abs(polygonAreaM2(corners));
		if (area === 0) return { refused: 'the corners lie on one line: there is no area to cut' };
		return timesFor(area * depth, cut);
	},
	condense: ({ corners }, uncertainty) => ({
		name: 'area',
		value: Math.abs(polygonAreaM2(corners)),
		uncertainty: polygonAreaUncertaintyM2(corners, uncertainty)
	}),
	denominators: dividedBy,
	question: (_, times) => questionTime(times),
	say: timeWords
});

export const cleaningCut = declare({
	name: 'time-cleaning-cut',
	purpose: 'Beam time of a cut that cleans a face, line by line.',
	formula: `volume = length·depth·thickness; ${formula}, times the passes over each line`,
	source,
	inputs: {
		length: cutSize('length of the face'),
		depth: cutSize('depth of the face'),
		thickness: cutSize('thickness to take off'),
		repeats: quantity(
			'ratio',
			'how often the whole cut is made',
			{ usual: '', min: 1, max: 100 },
			{ default: 1, source: 'setting' }
		),
		...beam
	},
	outputs: timeOutputs,
	compute(cut) {
		const { repeats } = cut;
		const times = timesFor(cut.length * cut.depth * cut.thickness, cut);
		if ('refused' in times) return times;
		const { volume } = times;
		return {
			time: times.time * repeats,
			volume,
			timeLeast: times.timeLeast * repeats,
			timeMost: times.timeMost * repeats
		};
	},
	denominators: dividedBy,
	question: (_, times) => questionTime(times),
	say: timeWords
});

export const depthInTime = declare({
	name: 'depth-in-time',
	purpose: 'Depth that a time of beam reaches in a rectangle.',
	formula: 'depth = rate·current·time/(length·width·redeposition)',
	source,
	inputs: {
		length: cutSize('length'),
		width: cutSize('width'),
		time: quantity('time', 'beam time', { usual: 'min', min: 1e-3, max: 1e6 }, {}),
		...beam
	},
	outputs: { depth: { what: 'depth', dimension: 'length', usual: 'µm' } },
	compute(cut) {
		const perCubicMetre = timesFor(1, cut);
		if ('refused' in perCubicMetre) return perCubicMetre;
		return { depth: cut.time / (perCubicMetre.time * cut.length * cut.width) };
	},
	denominators: ({ length, width, redeposition }) => ({ length, width, redeposition }),
	say: (_, { depth }) => [{ key: 'depthReached', parameters: { depthM: depth } }]
});

export const rateFromCut = declare({
	name: 'rate-from-cut',
	purpose: 'Rate from one measured cut or deposit; several make a calibration.',
	formula: 'rate = volume/(current·time)',
	source,
	inputs: {
		length: cutSize('length as measured'),
		width: cutSize('width as measured'),
		depth: cutSize('depth or height as measured'),
		current,
		time: quantity('time', 'beam time', { usual: 'min', min: 1e-3, max: 1e6 }, {})
	},
	outputs: { rate: { what: 'volume per charge', dimension: 'volumePerCharge', usual: 'µm³/nC' } },
	compute: ({ length, width, depth, current, time }) => ({ rate: (length * width * depth) / (current * time) }),
	denominators: ({ current, time }) => ({ current, time }),
	say: (_, { rate }) => [{ key: 'rateFound', parameters: { cubicMicrometresPerNanocoulomb: rate * 1e9 } }]
});

export const yieldRate = declare({
	name: 'rate-from-yield',
	purpose: 'Rate from a sputter yield.',
	formula: 'rate = Y·M/(ρ·N_A·e)',
	source: 'derived: Y atoms of mass M/N_A per charge e, over the density',
	inputs: {
		yield: quantity('ratio', 'atoms removed by one ion', { usual: '', min: 1e-3, max: 100 }, { source: 'literature' }),
		molarMass: quantity(
			'molarMass',
			'mean mass of one mole of atoms',
			{ usual: 'g/mol', min: 1e-3, max: 0.3 },
			{ source: 'literature' }
		),
		density: quantity('massDensity', 'density', { usual: 'g/cm³', min: 100, max: 25e3 }, { source: 'literature' })
	},
	outputs: { rate: { what: 'volume per charge', dimension: 'volumePerCharge', usual: 'µm³/nC' } },
	compute: ({ yield: atomsPerIon, molarMass, density }) => ({ rate: rateFromYield(atomsPerIon, molarMass, density) }),
	denominators: ({ density }) => ({ density }),
	say: (_, { rate }) => [{ key: 'rateFound', parameters: { cubicMicrometresPerNanocoulomb: rate * 1e9 } }]
});

export const passes = declare({
	name: 'passes',
	purpose: 'Points, time of one pass and number of passes of a raster within a beam time.',
	formula: 'spacing = spot·(1 − overlap); points = (⌊length/spacing⌋ + 1)·(⌊width/spacing⌋ + 1); pass = points·dwell',
	source: 'derived',
	inputs: {
		length: cutSize('length'),
		width: cutSize('width'),
		spot: cutSize('diameter of the beam’s spot'),
		overlap: quantity(
			'ratio',
			'part of the spot that neighbours share',
			{ usual: '%', min: -2, max: 0.95 },
			{ default: 0.5, source: 'setting; 50 % from memory' }
		),
		dwell: quantity(
			'time',
			'time at one point in one pass',
			{ usual: 'µs', min: 1e-8, max: 1 },
			{ default: 1e-6, source: 'setting; 1 µs from memory' }
		),
		time: quantity(
			'time',
			'beam time of the whole cut',
			{ usual: 'min', min: 1e-3, max: 1e6 },
			{ source: 'from a time reckoning' }
		)
	},
	outputs: {
		pass: { what: 'time of one pass', dimension: 'time', usual: 's', exact: true },
		points: { what: 'points of one pass', dimension: 'ratio', usual: '', exact: true },
		passes: { what: 'passes in the beam time', dimension: 'ratio', usual: '', exact: true }
	},
	compute({ length, width, spot, overlap, dwell, time }) {
		const { points, passS } = onePass({ lengthM: length, widthM: width, spotM: spot, overlap, dwellS: dwell });
		return { pass: passS, points, passes: time / passS };
	},
	question: (_, { pass, passes }) => (passes < 1 ? { key: 'lessThanOnePass', parameters: { passS: pass } } : undefined),
	say: (_, { pass, passes }) => [{ key: 'passes', parameters: { passS: pass, passes } }]
});
