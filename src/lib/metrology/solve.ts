import { intervalsFromDraws, propagate, type Evaluate } from './propagate';
import {
	isRefusal,
	type Input,
	type Point,
	type PointsInput,
	type QuantityInput,
	type Reckoning,
	type Value
} from './reckoning';
import { quantityText } from './quantityText';
import { acceptedList } from './units';
import type { Words } from './words';

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

/** The formula does not work here: the reason in one sentence. */
export interface Refused {
	readonly kind: 'refused';
	readonly reason: string;
}

/** Bad input: one sentence each, with what was wrong and what was expected. */
export interface BadInput {
	readonly kind: 'bad input';
	readonly faults: readonly string[];
}

/** Relative error of a denominator above which propagation is given up for draws. */
const denominatorLimit = 0.1;

/** Checks the inputs, reckons, and propagates. Nothing is clamped: outside a range is bad input, never moved to its edge. */
export function solve(reckoning: Reckoning, given: Readonly<Record<string, Given>>): Solved | Refused | BadInput {
	const faults = Object.keys(given)
		.filter((name) => !Object.hasOwn(reckoning.inputs, name))
		.map((name) => `${reckoning.name} has no input "${name}"; expected ${Object.keys(reckoning.inputs).join(', ')}`);
	const used: Record<string, Value> = {};
	const defaulted: string[] = [];
	for (const [name, input] of Object.entries(reckoning.inputs)) {
		const at = Object.hasOwn(given, name) ? given[name] : undefined;
		if (at === undefined) {
			const fallback = 'default' in input ? input.default : undefined;
			if (fallback !== undefined) defaulted.push(name);
			else if (!('optional' in input)) faults.push(`"${name}" is missing: ${input.what}; expected ${expected(input)}`);
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
): SpreadFound | { refused: string } {
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
		: { refused: 'the readings are so uncertain that the reckoning may not work at all; read again, more exactly' };
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

/** What an input takes, for sentences: "0.1 to 100 µm (µm, nm, mm, cm or m)". */
export function expected(input: Input): string {
	if (input.kind === 'choice') return input.options.join(' or ');
	if (input.kind === 'points') return `${input.least} to ${input.most} corners as "x,y; x,y; … ${input.usual}"`;
	return `${rangeText(input)} (${acceptedList(input.dimension)})`;
}

export function rangeText(input: QuantityInput): string {
	return `${quantityText(input.min, input.dimension, input.usual)} to ${quantityText(input.max, input.dimension, input.usual)}`;
}

function check(name: string, input: Input, at: Given): string | undefined {
	const uncertainty = 'uncertainty' in at ? at.uncertainty : undefined;
	if (uncertainty !== undefined && !(uncertainty >= 0 && Number.isFinite(uncertainty)))
		return `the uncertainty of "${name}" is ${uncertainty}; expected 0 or more`;
	if (input.kind === 'choice')
		return 'choice' in at && input.options.includes(at.choice)
			? undefined
			: `"${name}" is ${'choice' in at ? `"${at.choice}"` : 'no choice'}; expected ${expected(input)}`;
	if (input.kind === 'points')
		return 'points' in at
			? checkPoints(name, input, at.points)
			: `"${name}" is no list of corners; expected ${expected(input)}`;
	if (!('value' in at)) return `"${name}" is no quantity; expected ${expected(input)}`;
	return at.value >= input.min && at.value <= input.max
		? undefined
		: `"${name}" is ${quantityText(at.value, input.dimension, input.usual)}; expected ${expected(input)}`;
}

function checkPoints(name: string, input: PointsInput, points: readonly Point[]): string | undefined {
	if (points.length < input.least || points.length > input.most)
		return `"${name}" has ${points.length} corners; expected ${input.least} to ${input.most}`;
	return points.flat().every((coordinate) => Math.abs(coordinate) <= input.max)
		? undefined
		: `a corner of "${name}" lies beyond ${quantityText(input.max, 'length', input.usual)}`;
}
