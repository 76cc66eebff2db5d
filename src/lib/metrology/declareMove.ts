import type { Axis, Sign } from './axes';
import type { Measured, Move, MoveSettings } from './move';
import { limit, size, triedSign, viewHalf } from './inputs';
import {
	declare,
	type Input,
	type Output,
	type QuantityInput,
	type Reckoning,
	type Refusal,
	type Results,
	type ValuesOf
} from './reckoning';
import { noSuchInput, solve, type Given } from './solve';
import { questionMove, tellMove, type Found } from './tellMove';

/** A reckoning whose result is a move: one declaration gives the entry of the registry and the move of the adjust loops. */

const shared = {
	/** whether a positive number on the axis moves the picture right or up in its view */
	sign: triedSign,
	/** whether a larger Z number is a higher stage */
	raises: triedSign,
	/** largest error that counts as right */
	tolerance: size({ optional: true, source: 'setting' }),
	viewHalf,
	limit
} as const;

type Inputs = Readonly<Record<string, Input>>;
type All<I extends Inputs> = I & typeof shared;

interface MoveSpec<I extends Inputs, O extends string> {
	readonly name: string;
	readonly inputs: I;
	/** More results besides `error`. */
	readonly outputs: Readonly<Record<O, Output>>;
	/** Axis moved unless the `axis` input or setting says another. */
	readonly axis: Axis;
	compute(values: ValuesOf<All<I>>): Results<NoInfer<O> | 'error'> | Refusal;
	denominators?(values: ValuesOf<All<I>>): Readonly<Record<string, number>>;
	found(
		values: ValuesOf<All<I>>,
		results: Results<NoInfer<O> | 'error'>,
		signs: { sign: Sign | undefined; raises: Sign | undefined }
	): Found;
}

export interface MoveAndReckoning {
	readonly move: Move;
	readonly reckoning: Reckoning;
}

const signOf = (choice: string): Sign | undefined => (choice === '+' ? 1 : choice === '-' ? -1 : undefined);
const choiceOf = (sign: Sign | undefined): string => (sign === undefined ? 'untried' : sign > 0 ? '+' : '-');

export function declareMove<const I extends Inputs, const O extends string = never>(
	spec: MoveSpec<I, O>
): MoveAndReckoning {
	type V = ValuesOf<All<I>>;
	const inputs: All<I> = { ...spec.inputs, ...shared };
	const outputs = { error: { dimension: 'length', usual: 'µm' }, ...spec.outputs } as Readonly<
		Record<O | 'error', Output>
	>;
	const told = (values: V, results: Results<O | 'error'>, uncertaintyM: number) => {
		const given = values as ValuesOf<typeof shared>;
		const found = spec.found(values, results, { sign: signOf(given.sign), raises: signOf(given.raises) });
		return tellMove(found, uncertaintyM, {
			toleranceM: given.tolerance,
			viewHalfM: given.viewHalf,
			limitM: given.limit
		});
	};
	const reckoning = declare<All<I>, O | 'error'>({
		name: spec.name,
		inputs,
		outputs,
		compute: (values) => spec.compute(values),
		...(spec.denominators ? { denominators: (values: V) => spec.denominators!(values) } : {}),
		question(values, results) {
			const given = values as ValuesOf<typeof shared>;
			return questionMove(told(values, results, 0).move.amountM, { viewHalfM: given.viewHalf, limitM: given.limit });
		},
		say: (values, results, uncertainty) => told(values, results, uncertainty).words
	});
	const readings = Object.entries(spec.inputs).filter(([, input]) => input.source === 'reading') as [
		string,
		QuantityInput
	][];
	const move: Move = {
		axis: spec.axis,
		readings: Object.fromEntries(
			readings.map(([name, input]) => [
				name,
				{
					unit: input.dimension === 'angle' ? ('rad' as const) : ('m' as const),
					signed: input.min < 0,
					required: input.default === undefined && input.optional === undefined
				}
			])
		),
		reckon(measured, settings) {
			const foreign = Object.keys(measured).find((name) => !Object.hasOwn(inputs, name));
			if (foreign !== undefined) return { refused: [noSuchInput(spec.name, inputs, foreign)] };
			const axis = settings.axis ?? spec.axis;
			const solved = solve(reckoning, { ...fromSettings(axis, settings, inputs), ...asGiven(measured) });
			if (solved.kind === 'bad input') return { refused: solved.faults };
			if (solved.kind === 'refused') return { refused: [solved.reason] };
			const error = solved.results['error']!;
			if (error.uncertainty === null || error.uncertainty === undefined)
				return { refused: [{ key: 'tooUncertainForMove', parameters: {} }] };
			const values = Object.fromEntries(Object.entries(solved.results).map(([name, { value }]) => [name, value]));
			return told(solved.used as V, values as Results<O | 'error'>, error.uncertainty);
		}
	};
	return { move, reckoning };
}

const asGiven = (measured: Readonly<Record<string, Measured>>): Record<string, Given> => ({ ...measured });

/** The settings that this reckoning declares an input for. */
function fromSettings(axis: Axis, settings: MoveSettings, inputs: Inputs): Record<string, Given> {
	const choices: Record<string, string | undefined> = {
		axis,
		sign: choiceOf(settings.signs?.[axis]),
		raises: choiceOf(settings.signs?.stageZRaises),
		tiltSign: choiceOf(settings.signs?.stageTilt)
	};
	const quantities: Record<string, number | undefined> = {
		columnAngle: settings.columnAngleRad,
		tolerance: settings.toleranceM,
		viewHalf: settings.viewHalfM,
		limit: settings.limitM,
		range: settings.beamShiftRangeM
	};
	const given: Record<string, Given> = {};
	for (const [name, choice] of Object.entries(choices))
		if (choice !== undefined && Object.hasOwn(inputs, name)) given[name] = { choice };
	for (const [name, value] of Object.entries(quantities))
		if (value !== undefined && Object.hasOwn(inputs, name)) given[name] = { value };
	return given;
}
