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
/** Where a rate is given it is divided by; a row of the table has no error of its own, only a range. */
const dividedBy = ({ current, rate = 1 }: { current: number; rate: number | undefined }) => ({ current, rate });

/**
 * Beam time of a trench that runs out to nothing (half a box) or of a full one.
 * volume = length·width·depth, halved for a wedge; time = volume·redeposition/(rate·current) (derived: charge = current·time, volume = rate·charge).
 */
export const trench = declare({
	name: 'time-trench',
	inputs: {
		/** length along the lamella */
		length: cutSize,
		/** width away from the lamella */
		width: cutSize,
		/** depth at the lamella */
		depth: cutSize,
		/** wedge: half a box */
		shape: { kind: 'choice', options: ['wedge', 'box'], default: 'wedge', source: 'practice' },
		...beam
	},
	outputs: timeOutputs,
	compute: (cut) => timesFor(cut.length * cut.width * cut.depth * (cut.shape === 'wedge' ? 0.5 : 1), cut),
	denominators: dividedBy,
	question: (_, times) => questionTime(times),
	say: timeWords
});

/**
 * Beam time of a rectangle cut to one depth.
 * volume = length·width·depth; time = volume·redeposition/(rate·current) (derived: charge = current·time, volume = rate·charge).
 */
export const rectangle = declare({
	name: 'time-rectangle',
	inputs: { length: cutSize, width: cutSize, depth: cutSize, ...beam },
	outputs: timeOutputs,
	compute: (cut) => timesFor(cut.length * cut.width * cut.depth, cut),
	denominators: dividedBy,
	question: (_, times) => questionTime(times),
	say: timeWords
});

/**
 * Beam time of a polygon cut to one depth.
 * area by the trapezoid formula over its corners; volume = area·depth; time = volume·redeposition/(rate·current) (derived: charge = current·time, volume = rate·charge).
 */
export const polygon = declare({
	name: 'time-polygon',
	inputs: {
		/** corners in order */
		corners: { kind: 'points', usual: 'µm', least: 3, most: 12, max: 5e-3, source: 'reading' },
		depth: cutSize,
		...beam
	},
	outputs: timeOutputs,
	compute(cut) {
		const { corners, depth } = cut;
		const { area: drawn } = cut as { readonly area?: number };
		if (drawn !== undefined) return timesFor(drawn * depth, cut);
		if (crossesItself(corners))
			return { refused: { key: 'polygonCrosses', parameters: {} } };
		const area = Math.abs(polygonAreaM2(corners));
		if (area === 0) return { refused: { key: 'polygonFlat', parameters: {} } };
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

/**
 * Beam time of a cut that cleans a face, line by line.
 * volume = length·depth·thickness; time = volume·redeposition/(rate·current), times the passes over each line (derived: charge = current·time, volume = rate·charge).
 */
export const cleaningCut = declare({
	name: 'time-cleaning-cut',
	inputs: {
		/** length of the face */
		length: cutSize,
		/** depth of the face */
		depth: cutSize,
		/** thickness to take off */
		thickness: cutSize,
		/** how often the whole cut is made */
		repeats: quantity('ratio', { usual: '', min: 1, max: 100 }, { default: 1, source: 'setting' }),
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

/**
 * Depth that a time of beam reaches in a rectangle.
 * depth = rate·current·time/(length·width·redeposition) (derived: charge = current·time, volume = rate·charge).
 */
export const depthInTime = declare({
	name: 'depth-in-time',
	inputs: {
		length: cutSize,
		width: cutSize,
		/** beam time */
		time: quantity('time', { usual: 'min', min: 1e-3, max: 1e6 }, {}),
		...beam
	},
	outputs: { depth: { dimension: 'length', usual: 'µm' } },
	compute(cut) {
		const perCubicMetre = timesFor(1, cut);
		if ('refused' in perCubicMetre) return perCubicMetre;
		return { depth: cut.time / (perCubicMetre.time * cut.length * cut.width) };
	},
	denominators: ({ length, width, redeposition }) => ({ length, width, redeposition }),
	say: (_, { depth }) => [{ key: 'depthReached', parameters: { depthM: depth } }]
});

/**
 * Rate from one measured cut or deposit; several make a calibration.
 * rate = volume/(current·time) (derived: charge = current·time, volume = rate·charge).
 */
export const rateFromCut = declare({
	name: 'rate-from-cut',
	inputs: {
		/** length as measured */
		length: cutSize,
		/** width as measured */
		width: cutSize,
		/** depth or height as measured */
		depth: cutSize,
		current,
		/** beam time */
		time: quantity('time', { usual: 'min', min: 1e-3, max: 1e6 }, {})
	},
	outputs: { rate: { dimension: 'volumePerCharge', usual: 'µm³/nC' } },
	compute: ({ length, width, depth, current, time }) => ({ rate: (length * width * depth) / (current * time) }),
	denominators: ({ current, time }) => ({ current, time }),
	say: (_, { rate }) => [{ key: 'rateFound', parameters: { cubicMicrometresPerNanocoulomb: rate * 1e9 } }]
});

/**
 * Rate from a sputter yield.
 * rate = Y·M/(ρ·N_A·e) (derived: Y atoms of mass M/N_A per charge e, over the density).
 */
export const yieldRate = declare({
	name: 'rate-from-yield',
	inputs: {
		/** atoms removed by one ion */
		yield: quantity('ratio', { usual: '', min: 1e-3, max: 100 }, { source: 'literature' }),
		/** mean mass of one mole of atoms */
		molarMass: quantity('molarMass', { usual: 'g/mol', min: 1e-3, max: 0.3 }, { source: 'literature' }),
		/** density */
		density: quantity('massDensity', { usual: 'g/cm³', min: 100, max: 25e3 }, { source: 'literature' })
	},
	outputs: { rate: { dimension: 'volumePerCharge', usual: 'µm³/nC' } },
	compute: ({ yield: atomsPerIon, molarMass, density }) => ({ rate: rateFromYield(atomsPerIon, molarMass, density) }),
	denominators: ({ density }) => ({ density }),
	say: (_, { rate }) => [{ key: 'rateFound', parameters: { cubicMicrometresPerNanocoulomb: rate * 1e9 } }]
});

/**
 * Points, time of one pass and number of passes of a raster within a beam time.
 * spacing = spot·(1 − overlap); points = (⌊length/spacing⌋ + 1)·(⌊width/spacing⌋ + 1); pass = points·dwell (derived).
 */
export const passes = declare({
	name: 'passes',
	inputs: {
		length: cutSize,
		width: cutSize,
		/** diameter of the beam’s spot */
		spot: cutSize,
		/** part of the spot that neighbours share */
		overlap: quantity('ratio', { usual: '%', min: -2, max: 0.95 }, { default: 0.5, source: 'overlap' }),
		/** time at one point in one pass */
		dwell: quantity('time', { usual: 'µs', min: 1e-8, max: 1 }, { default: 1e-6, source: 'dwell' }),
		/** beam time of the whole cut */
		time: quantity('time', { usual: 'min', min: 1e-3, max: 1e6 }, { source: 'timeReckoned' })
	},
	outputs: {
		/** time of one pass */
		pass: { dimension: 'time', usual: 's', exact: true },
		/** points of one pass */
		points: { dimension: 'ratio', usual: '', exact: true },
		/** passes in the beam time */
		passes: { dimension: 'ratio', usual: '', exact: true }
	},
	compute({ length, width, spot, overlap, dwell, time }) {
		const { points, passS } = onePass({ lengthM: length, widthM: width, spotM: spot, overlap, dwellS: dwell });
		return { pass: passS, points, passes: time / passS };
	},
	question: (_, { pass, passes }) => (passes < 1 ? { key: 'lessThanOnePass', parameters: { passS: pass } } : undefined),
	say: (_, { pass, passes }) => [{ key: 'passes', parameters: { passS: pass, passes } }]
});
