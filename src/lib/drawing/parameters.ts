import { unitFactor } from '$lib/metrology/units';
import * as m from '$lib/paraglide/messages';

/** A parameter of a drawing: a length or an angle in its unit within a range, a whole number, or one of named choices. */
export type ParameterSpec =
	| { readonly kind: 'length'; readonly unit: 'µm' | 'nm' | 'mm'; readonly min: number; readonly max: number; readonly default?: number }
	| { readonly kind: 'angle'; readonly unit: '°'; readonly min: number; readonly max: number; readonly default?: number }
	| { readonly kind: 'count'; readonly min: number; readonly max: number; readonly default?: number }
	| {
			readonly kind: 'choice';
			/** Option → other spellings that mean it (conditions of parts as procedures name them). */
			readonly options: Readonly<Record<string, readonly string[]>>;
			readonly default?: string;
	  };

/** A value as a procedure or the run gives it: a number is in the parameter's unit; null: to be read in this step; absent: not known. */
export type GivenValue = number | string | boolean | null | undefined | { readonly value: number; readonly unit: string };
export type Given = Readonly<Record<string, GivenValue>>;

/** What a drawing is drawn from: lengths in m, angles in rad, counts, option ids. What is not known is absent. */
export interface Values {
	readonly numbers: Readonly<Record<string, number>>;
	readonly choices: Readonly<Record<string, string>>;
	/** Parameters that the step is about to learn (given as null), in order: the first is being asked. */
	readonly awaited: readonly string[];
}

/** Reads what was given by the drawing's specification: values in SI, and a sentence for each fault. Faulty values are left out. */
export function readParameters(spec: Readonly<Record<string, ParameterSpec>>, given: Given): { values: Values; faults: string[] } {
	const numbers: Record<string, number> = {};
	const choices: Record<string, string> = {};
	const faults: string[] = [];
	const awaited = Object.keys(given).filter((name) => given[name] === null && Object.hasOwn(spec, name));
	for (const name of Object.keys(given))
		if (!Object.hasOwn(spec, name)) faults.push(m.drawing_fault_unknown({ parameter: name, known: Object.keys(spec).join(', ') }));
	for (const [parameter, one] of Object.entries(spec)) {
		const value = (Object.hasOwn(given, parameter) ? given[parameter] : undefined) ?? one.default;
		if (value === undefined) continue;
		if (one.kind === 'choice') {
			const said = String(value).trim().toLowerCase().replace(/-/g, ' ');
			const option = Object.keys(one.options).find((id) => id === said || one.options[id]?.includes(said));
			if (option) choices[parameter] = option;
			else faults.push(m.drawing_fault_choice({ parameter, given: String(value), options: Object.keys(one.options).join(', ') }));
			continue;
		}
		const unit = one.kind === 'count' ? '' : one.unit;
		const own = one.kind === 'count' ? 1 : (unitFactor(one.kind, one.unit) as number);
		const [amount, factor] =
			typeof value === 'object' ? [value.value, one.kind === 'count' ? undefined : unitFactor(one.kind, value.unit)] : [Number(value), own];
		if (factor === undefined) {
			faults.push(m.drawing_fault_unit({ parameter, given: (value as { unit: string }).unit, unit }));
			continue;
		}
		const inOwn = (amount * factor) / own;
		if (value === '' || typeof value === 'boolean' || !(inOwn >= one.min && inOwn <= one.max) || (one.kind === 'count' && !Number.isInteger(inOwn)))
			faults.push(m.drawing_fault_number({ parameter, given: String(amount), min: String(one.min), max: String(one.max), unit }));
		else numbers[parameter] = amount * factor;
	}
	return { values: { numbers, choices, awaited }, faults };
}
