import type { Words } from './words';
import type { Dimension } from './units';

/**
 * How a reckoning is declared: every input with its unit, range and where it is from, and what comes out. Names, formulas and sources
 * for people stand in the message library (src/lib/session/sum-names.ts); beside each declaration for whoever reads the code.
 */

export type Input = QuantityInput | ChoiceInput | PointsInput;

/** Where a value comes from, or its default or limits: read at the instrument, set once, or known from elsewhere. */
export type InputSource =
	| 'reading'
	| 'setting'
	/** Set by the magnification. */
	| 'magnification'
	/** Signs of the instrument's axes. */
	| 'signs'
	| 'instrument'
	| 'beam'
	/** Holder and instrument; no default on purpose. */
	| 'holder'
	/** Common practice, no source. */
	| 'practice'
	/** Calibrated from own cuts, else the material's row. */
	| 'ownCuts'
	/** 1 until it is learned from own cuts. */
	| 'redeposition'
	/** The rates table; each row has its own source. */
	| 'rates'
	| 'literature'
	/** A setting; 50 % from memory. */
	| 'overlap'
	/** A setting; 1 µs from memory. */
	| 'dwell'
	/** Comes from a reckoning of a time. */
	| 'timeReckoned'
	/** Window in which the deposit grows. */
	| 'window';

interface InputBase {
	readonly source: InputSource;
}

export interface QuantityInput extends InputBase {
	readonly kind: 'quantity';
	readonly dimension: Dimension;
	/** Unit people use for it; must be one the dimension accepts. */
	readonly usual: string;
	/** Range in SI, both ends allowed. */
	readonly min: number;
	readonly max: number;
	/** SI. Without a default and not optional: must be given. */
	readonly default?: number;
	/** May be absent: then the reckoning leaves out what needs it, or refuses by name. */
	readonly optional?: true;
}

export interface ChoiceInput extends InputBase {
	readonly kind: 'choice';
	readonly options: readonly string[];
	readonly default?: string;
}

/** Corners of a polygon in m, in order, not repeated at the end. */
export interface PointsInput extends InputBase {
	readonly kind: 'points';
	readonly usual: string;
	readonly least: number;
	readonly most: number;
	/** Largest size of a coordinate, m. */
	readonly max: number;
}

export type Point = readonly [x: number, y: number];
export type Value = number | string | readonly Point[] | undefined;

type ValueOf<I extends Input> = I extends PointsInput
	? readonly Point[]
	: I extends ChoiceInput
		? I['options'][number]
		: I extends { optional: true }
			? number | undefined
			: number;
export type ValuesOf<I extends Readonly<Record<string, Input>>> = { readonly [K in keyof I]: ValueOf<I[K]> };

export interface Output {
	readonly dimension: Dimension;
	readonly usual: string;
	/** A count or a yes (1) or no (0): no uncertainty is told. */
	readonly exact?: true;
}

export interface Condensed {
	readonly name: string;
	readonly value: number;
	/** Standard uncertainty of the value. */
	readonly uncertainty: number;
}

export interface Refusal {
	readonly refused: Words;
}

/** Results by name with their standard uncertainty where there is one. */
export type Results<O extends string = string> = Readonly<Record<O, number>>;

export interface Spec<I extends Readonly<Record<string, Input>>, O extends string> {
	readonly name: string;
	readonly inputs: I;
	/** The first is the main one. */
	readonly outputs: Readonly<Record<O, Output>>;
	compute(values: ValuesOf<I>): Results<NoInfer<O>> | Refusal;
	/**
	 * For a list of points: the numbers that stand for it in the spread, so that not every corner is an input of its own. `uncertainty` is
	 * that of the points' coordinates. `compute` then gets these numbers beside the points and goes by them.
	 */
	condense?(values: ValuesOf<I>, uncertainty: number): Condensed;
	/** What the formula divides by, by name: decides between propagation and draws. */
	denominators?(values: ValuesOf<I>): Readonly<Record<string, number>>;
	/** Asked instead of said where a result cannot well be right. */
	question?(values: ValuesOf<I>, results: Results<NoInfer<O>>): Words | undefined;
	/** The words of the move or the result; `uncertainty` is that of the main result (0 where an interval stands instead). */
	say(values: ValuesOf<I>, results: Results<NoInfer<O>>, uncertainty: number): readonly Words[];
}

/** A reckoning with its types forgotten, as the registry, the command line and the pages use it. */
export interface Reckoning extends Omit<
	Spec<Readonly<Record<string, Input>>, string>,
	'compute' | 'condense' | 'denominators' | 'question' | 'say'
> {
	compute(values: Values): Results | Refusal;
	condense?(values: Values, uncertainty: number): Condensed;
	denominators?(values: Values): Readonly<Record<string, number>>;
	question?(values: Values, results: Results): Words | undefined;
	say(values: Values, results: Results, uncertainty: number): readonly Words[];
}

export type Values = Readonly<Record<string, Value>>;

/**
 * Declares a reckoning; the types of `compute` follow from the inputs. Only `solve` calls it afterwards, with values it has checked
 * against `inputs`: that is what makes forgetting the types sound.
 */
export function declare<const I extends Readonly<Record<string, Input>>, const O extends string>(
	spec: Spec<I, O>
): Reckoning {
	return spec as Reckoning;
}

export const isRefusal = (found: Results | Refusal): found is Refusal => typeof found['refused'] === 'object';
