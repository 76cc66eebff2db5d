import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { Input, Point, Reckoning, Value } from '$lib/metrology/reckoning';
import { isRefusal } from '$lib/metrology/reckoning';
import type { Given } from '$lib/metrology/solve';

/** Random questions to the reckonings and draws of their inputs, from a seed; nothing here uses the code under test to expect a result. */
export interface Dice {
	uniform(least: number, most: number): number;
	normal(): number;
	pick<T>(among: readonly T[]): T;
}

export function dice(seed: number): Dice {
	const generator = xoroshiro128plus(seed);
	const unit = (): number => uniformFloat64(generator);
	return {
		uniform: (least, most) => least + (most - least) * unit(),
		// Box and Muller's method: exact, and unlike the quantile method of the code under test
		normal: () => Math.sqrt(-2 * Math.log(1 - unit())) * Math.cos(2 * Math.PI * unit()),
		pick: (among) => among[Math.floor(unit() * among.length)]!
	};
}

const deg = Math.PI / 180;

/** A value as it comes up at the instrument: sizes over four decades, offsets either way, angles of the whole range. */
export function drawValue(input: Input, roll: Dice): Value {
	if (input.kind === 'choice')
		return roll.pick(input.options.filter((option) => option !== 'untried' && option !== 'own'));
	if (input.kind === 'points') return star(roll);
	if (input.min < 0) {
		const reach = input.dimension === 'length' ? Math.min(100e-6, input.max) : input.max;
		return roll.uniform(Math.max(-reach, input.min), reach);
	}
	const least = Math.max(input.min, input.dimension === 'length' ? 0.1e-6 : input.max * 1e-4);
	const most = input.dimension === 'length' ? Math.min(input.max, 100e-6) : input.max;
	return Math.exp(roll.uniform(Math.log(least), Math.log(most)));
}

/** Corners round a middle, in order: no edge crosses another. */
function star(roll: Dice): Point[] {
	const corners = Math.floor(roll.uniform(3, 9));
	return Array.from({ length: corners }, (_, i): Point => {
		const angle = (2 * Math.PI * (i + roll.uniform(0, 0.5))) / corners;
		const radius = roll.uniform(5e-6, 20e-6);
		return [radius * Math.cos(angle), radius * Math.sin(angle)];
	});
}

/** A whole question with an uncertainty on every reading: up to `worst` of the value (angles: up to 1°, corners: up to 0.5 µm). */
export function drawQuestion(reckoning: Reckoning, roll: Dice, worst: number): Record<string, Given> {
	const given: Record<string, Given> = {};
	for (const [name, input] of Object.entries(reckoning.inputs)) {
		if (['viewHalf', 'limit', 'tolerance'].includes(name)) continue;
		const value = drawValue(input, roll);
		if (typeof value === 'string') given[name] = { choice: value };
		else if (Array.isArray(value))
			given[name] = { points: value as readonly Point[], uncertainty: roll.uniform(0.01e-6, 0.5e-6) };
		else if (typeof value === 'number' && input.kind === 'quantity') {
			const share = roll.uniform(0.002, worst);
			const uncertainty = input.dimension === 'angle' ? roll.uniform(0.02, 1) * deg : share * Math.abs(value);
			given[name] = { value, uncertainty };
		}
	}
	return given;
}

export interface Drawn {
	/** Sorted draws of each result, SI. */
	readonly sorted: Readonly<Record<string, Float64Array>>;
	readonly deviation: Readonly<Record<string, number>>;
	readonly refused: number;
}

/** Plain Monte Carlo of all results, the judge of the propagated uncertainty. */
export function monteCarlo(
	reckoning: Reckoning,
	used: Readonly<Record<string, Value>>,
	given: Readonly<Record<string, Given>>,
	draws: number,
	roll: Dice
): Drawn {
	const names = Object.keys(reckoning.outputs);
	const found = new Map(names.map((name) => [name, new Float64Array(draws)]));
	const noisy = Object.entries(given).flatMap(([name, at]) =>
		'uncertainty' in at && at.uncertainty ? [[name, at.uncertainty] as const] : []
	);
	let kept = 0;
	let refused = 0;
	for (let i = 0; i < draws; i++) {
		const values: Record<string, Value> = { ...used };
		for (const [name, sd] of noisy) {
			const value = used[name];
			if (typeof value === 'number') values[name] = value + sd * roll.normal();
			else if (Array.isArray(value))
				values[name] = (value as readonly Point[]).map(([x, y]): Point => [
					x + sd * roll.normal(),
					y + sd * roll.normal()
				]);
		}
		const results = reckoning.compute(values);
		if (isRefusal(results)) refused++;
		else {
			for (const name of names) found.get(name)![kept] = results[name]!;
			kept++;
		}
	}
	const sorted = Object.fromEntries(names.map((name) => [name, found.get(name)!.subarray(0, kept).sort()]));
	return { sorted, deviation: Object.fromEntries(names.map((name) => [name, deviation(sorted[name]!)])), refused };
}

function deviation(values: Float64Array): number {
	let mean = 0;
	for (const value of values) mean += value / values.length;
	let sum = 0;
	for (const value of values) sum += (value - mean) ** 2;
	return Math.sqrt(sum / (values.length - 1));
}

/** Part of sorted draws at or below a value. */
export function shareBelow(sorted: Float64Array, value: number): number {
	let low = 0;
	let high = sorted.length;
	while (low < high) {
		const middle = (low + high) >> 1;
		if (sorted[middle]! <= value) low = middle + 1;
		else high = middle;
	}
	return low / sorted.length;
}
