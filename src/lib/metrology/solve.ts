import { intervalsFromDraws, propagate, type Evaluate } from './propagate';
import {
	isRefusal,
	type Input,
	type Point,
	type PointsInput,
	type QuantityInput,
	type Reckoning,
	type Refusal,
	type Value
} from './reckoning';
import { quantityText } from './quantityText';
import type { Words, WordsOf } from './words';

/** An input as given: SI, with one standard deviation where the reading has one. */
export type Given =
	| { readonly value: number; readonly uncertainty?: number }
	| { readonly choice: string }
	| { readonly points: readonly Point[]; readonly uncertainty?: number };

export interface Solved {
	readonly kind: 'solved';
	readonly results: Readonly<Record<string, ResultValue>>;
	/** Inputs as used, defaults filled in. */
	readonly used: Readonly<Record<string, Value>>;
	/** Names of inputs that came from a default. */
	readonly defaulted: readonly string[];
	readonly questioned?: Words;
	readonly words: readonly Words[];
}

export interface ResultValue {
	/** SI. */
	readonly value: number;
	/** Standard uncertainty, SI; null where the interval stands instead; absent for counts and answers. */
	readonly uncertainty?: number | null;
	/** 95 % interval from draws, where a denominator's relative error exceeds 10 % or the spread is not smooth. */
	readonly interval?: readonly [number, number];
}

/** The formula does not work here: the reason. */
export interface Refused {
	readonly kind: 'refused';
	readonly reason: Words;
}

/** Bad input: one sentence each, with what was wrong and what was expected. */
export interface BadInput {
	readonly kind: 'bad input';
	readonly faults: readonly Words[];
}

/** Relative error of a denominator above which propagation is given up for draws. */
const denominatorLimit = 0.1;

/** Checks the inputs, reckons, and propagates. Nothing is clamped: outside a range is bad input, never moved to its edge. */
export function solve(reckoning: Reckoning, given: Readonly<Record<string, Given>>): Solved | Refused | BadInput {
	const faults: Words[] = Object.keys(given)
		.filter((name) => !Object.hasOwn(reckoning.inputs, name))
		.map((name) => noSuchInput(reckoning.name, reckoning.inputs, name));
	const used: Record<string, Value> = {};
	const defaulted: string[] = [];
	for (const [name, input] of Object.entries(reckoning.inputs)) {
		const at = Object.hasOwn(given, name) ? given[name] : undefined;
		if (at === undefined) {
			const fallback = 'default' in input ? input.default : undefined;
			if (fallback !== undefined) defaulted.push(name);
			else if (!('optional' in input)) faults.push(missing(name, input));
			used[name] = fallback;
			continue;
		}
		const fault = check(name, input, at);
		if (fault !== undefined) faults.push(fault);
		else used[name] = 'choice' in at ? at.choice : 'points' in at ? at.points : at.value;
	}
	if (faults.length > 0) return { kind: 'bad input', faults };
	const found = reckoning.compute(used);
	if (isRefusal(found)) return { kind: 'refused', reason: found.refused };
	const names = Object.keys(reckoning.outputs);
	const spreadNames = names.filter((name) => !reckoning.outputs[name]!.exact);
	const spread = spreadOf(reckoning, used, given, spreadNames);
	if ('refused' in spread) return { kind: 'refused', reason: spread.refused };
	const results: Record<string, ResultValue> = {};
	names.forEach((name) => {
		const value = found[name]!;
		const index = spreadNames.indexOf(name);
		if (index < 0) results[name] = { value };
		else if (spread.intervals) results[name] = { value, uncertainty: null, interval: spread.intervals[index]! };
		else results[name] = { value, uncertainty: spread.deviations![index]! };
	});
	const questioned = reckoning.question?.(used, found);
	return {
		kind: 'solved',
		results,
		used,
		defaulted,
		...(questioned ? { questioned } : {}),
		words: reckoning.say(used, found, results[names[0]!]?.uncertainty ?? 0)
	};
}

interface SpreadFound {
	readonly deviations?: readonly number[];
	readonly intervals?: readonly (readonly [number, number])[];
}

function spreadOf(
	reckoning: Reckoning,
	used: Readonly<Record<string, Value>>,
	given: Readonly<Record<string, Given>>,
	names: readonly string[]
): SpreadFound | Refusal {
	const { places, centre, sd, values } = uncertainInputs(reckoning, used, given);
	if (sd.length === 0) return { deviations: names.map(() => 0) };
	// one object for all points of the spread: a draw costs no more than its formula
	const at = (point: readonly number[]): Record<string, Value> => {
		for (let k = 0; k < places.length; k++) values[places[k]!] = point[k]!;
		return values;
	};
	const evaluate: Evaluate = (point, into) => {
		const found = reckoning.compute(at(point));
		if (isRefusal(found)) return false;
		for (let k = 0; k < names.length; k++) {
			const value = found[names[k]!]!;
			if (!Number.isFinite(value)) return false;
			into[k] = value;
		}
		return true;
	};
	const denominators: Evaluate = (point, into) => {
		Object.values(reckoning.denominators?.(at(point)) ?? {}).forEach((value, k) => (into[k] = value));
		return true;
	};
	if (!doubtful(denominators, centre, sd)) {
		const deviations = propagate(evaluate, centre, sd);
		if (deviations) return { deviations };
	}
	const intervals = intervalsFromDraws(evaluate, centre, sd);
	return intervals
		? { intervals }
		: { refused: { key: 'tooUncertain', parameters: {} } };
}

function doubtful(denominators: Evaluate, centre: readonly number[], sd: readonly number[]): boolean {
	const middle: number[] = [];
	denominators(centre, middle);
	const deviations = propagate(denominators, centre, sd);
	return (
		!deviations || deviations.some((deviation, index) => !(deviation <= denominatorLimit * Math.abs(middle[index]!)))
	);
}

/** All uncertain inputs as one row of numbers; a list of points by the number that stands for it. */
function uncertainInputs(
	reckoning: Reckoning,
	used: Readonly<Record<string, Value>>,
	given: Readonly<Record<string, Given>>
) {
	const centre: number[] = [];
	const sd: number[] = [];
	const places: string[] = [];
	const add = (name: string, value: number, uncertainty: number): void => {
		places.push(name);
		centre.push(value);
		sd.push(uncertainty);
	};
	const values: Record<string, Value> = { ...used };
	for (const [name, value] of Object.entries(used)) {
		const at = given[name];
		const uncertainty = at && 'uncertainty' in at ? (at.uncertainty ?? 0) : 0;
		if (uncertainty === 0) continue;
		if (typeof value === 'number') add(name, value, uncertainty);
		else if (reckoning.condense) {
			const condensed = reckoning.condense(used, uncertainty);
			add(condensed.name, condensed.value, condensed.uncertainty);
		} else throw new Error(`${reckoning.name} takes points but does not say what stands for them`);
	}
	return { places, centre, sd, values };
}

/** The sum takes no input of that name. */
export const noSuchInput = (sum: string, inputs: Readonly<Record<string, Input>>, input: string): WordsOf<'noSuchInput'> => ({
	key: 'noSuchInput',
	parameters: { sum, input, inputs: Object.keys(inputs).join(', ') }
});

/** Both ends of an input's range, written in the unit people use for it. */
export const rangeOf = ({ min, max, dimension, usual }: QuantityInput): { readonly least: string; readonly most: string } => ({
	least: quantityText(min, dimension, usual),
	most: quantityText(max, dimension, usual)
});

/** What is asked for where nothing, or nothing of this kind, was given. */
function missing(name: string, input: Input): Words {
	if (input.kind === 'choice') return { key: 'choiceMissing', parameters: { input: name, options: input.options.join(', ') } };
	if (input.kind === 'points')
		return { key: 'cornersMissing', parameters: { input: name, least: input.least, most: input.most, unit: input.usual } };
	return { key: 'quantityMissing', parameters: { input: name, ...rangeOf(input), dimension: input.dimension } };
}

function check(name: string, input: Input, at: Given): Words | undefined {
	const uncertainty = 'uncertainty' in at ? at.uncertainty : undefined;
	if (uncertainty !== undefined && !(uncertainty >= 0 && Number.isFinite(uncertainty)))
		return { key: 'badUncertainty', parameters: { input: name, given: uncertainty } };
	if (input.kind === 'choice') {
		if (!('choice' in at)) return missing(name, input);
		if (input.options.includes(at.choice)) return undefined;
		return { key: 'noSuchOption', parameters: { input: name, option: at.choice, options: input.options.join(', ') } };
	}
	if (input.kind === 'points') return 'points' in at ? checkPoints(name, input, at.points) : missing(name, input);
	if (!('value' in at)) return missing(name, input);
	if (at.value >= input.min && at.value <= input.max) return undefined;
	const value = quantityText(at.value, input.dimension, input.usual);
	return { key: 'outOfRange', parameters: { input: name, value, ...rangeOf(input), dimension: input.dimension } };
}

function checkPoints(name: string, { least, most, max }: PointsInput, points: readonly Point[]): Words | undefined {
	if (points.length < least || points.length > most)
		return { key: 'cornerCount', parameters: { input: name, count: points.length, least, most } };
	return points.flat().every((coordinate) => Math.abs(coordinate) <= max)
		? undefined
		: { key: 'cornerBeyond', parameters: { input: name, most: quantityText(max, 'length', 'µm') } };
}
