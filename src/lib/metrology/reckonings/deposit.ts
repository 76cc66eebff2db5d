import { rateRow } from '../rates';
import { declare } from '../reckoning';
import { current, cutSize, depositMaterial, questionTime, rate, timeOutputs, timesFor, timeWords } from './cutInputs';
import { quantity } from '../inputs';
import type { Words } from '../words';

/** Beam times of deposits, and whether the current density lets them grow. */

/** Where the density stands against the process's window; nothing is said where no window is known. */
function windowWords(material: string, density: number): Words[] {
	const window = rateRow(material)?.window;
	if (!window || (density >= window.least && density <= window.most)) return [];
	const parameters = { density, least: window.least, most: window.most, material };
	return [{ key: density > window.most ? 'densityTooHigh' : 'densityTooLow', parameters }];
}

/**
 * Beam time of a deposit, and its current density against the process’s window.
 * time = length·width·height/(rate·current); density = current/(length·width) (derived: charge = current·time, volume = rate·charge).
 */
export const deposit = declare({
	name: 'time-deposit',
	inputs: {
		length: cutSize,
		width: cutSize,
		height: cutSize,
		current,
		material: depositMaterial,
		rate
	},
	outputs: { ...timeOutputs, density: { dimension: 'currentDensity', usual: 'pA/µm²' } },
	compute(cap) {
		const { length, width, height, current } = cap;
		const times = timesFor(length * width * height, cap);
		if ('refused' in times) return times;
		const { time, volume, timeLeast, timeMost } = times;
		return { time, volume, timeLeast, timeMost, density: current / (length * width) };
	},
	denominators: ({ length, width, current, rate = 1 }) => ({ length, width, current, rate }),
	question: (_, times) => questionTime(times),
	say: (values, results) => [...timeWords(values, results), ...windowWords(values.material, results.density)]
});

/**
 * Current density over a rectangle, against the window of a deposit.
 * density = current/(length·width) (derived).
 */
export const density = declare({
	name: 'current-density',
	inputs: { length: cutSize, width: cutSize, current, material: depositMaterial },
	outputs: { density: { dimension: 'currentDensity', usual: 'pA/µm²' } },
	compute: ({ length, width, current }) => ({ density: current / (length * width) }),
	denominators: ({ length, width }) => ({ length, width }),
	say: ({ material }, { density }) => [{ key: 'density', parameters: { density } }, ...windowWords(material, density)]
});

/**
 * Current that gives a wanted density over a rectangle.
 * current = density·length·width (derived).
 */
export const patternCurrent = declare({
	name: 'current-for-density',
	inputs: {
		length: cutSize,
		width: cutSize,
		/** density wanted */
		density: quantity('currentDensity', { usual: 'pA/µm²', min: 1e-3, max: 1e6 }, { source: 'window' })
	},
	outputs: { current: { dimension: 'current', usual: 'pA' } },
	compute: ({ length, width, density }) => ({ current: density * length * width }),
	say: (_, { current }) => [{ key: 'currentWanted', parameters: { picoamperes: current * 1e12 } }]
});
