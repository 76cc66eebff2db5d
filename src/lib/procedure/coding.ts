import type { Settings, Parts } from './condition';
import type { Condition, Edition } from './edition';

/** Whether a condition holds for the valuation whose digits begin at `at`. */
export type Test = (digits: Uint8Array, at: number) => boolean;

/** Stands for a part or setting that has none of its known conditions: it fulfils nothing. */
export const NONE = 255;

/**
 * Parts and choice settings of an edition as digits: one byte each, parts first, then the settings of kind choice. A
 * valuation is `width` bytes; a digit is the position of the condition (or option) in the edition's own list.
 * Conditions become tests over those bytes, so that a question about parts costs a few array reads.
 */
export interface Coding {
	readonly width: number;
	readonly partCount: number;
	/** How many values each digit has. */
	readonly sizes: readonly number[];
	/** The digit of a part or choice setting; −1 where there is none of that id. */
	partDigit(part: string): number;
	settingDigit(setting: string): number;
	/** The value of a condition of a part; `NONE` for one that the edition does not list. */
	value(digit: number, condition: string): number;
	name(digit: number, value: number): string;
	encode(parts: Parts, settings: Settings): Uint8Array;
	decode(digits: Uint8Array, at: number): { parts: Parts; settings: Settings };
	test(condition: Condition): Test;
}

/** Codes an edition. Number settings are constants: those in `numbers`, else their defaults. */
export function coding(edition: Edition, numbers: Settings = {}): Coding {
	const choices = edition.settings.filter((setting) => setting.kind === 'choice');
	const lists = [
		...edition.parts.map((part) => part.conditions.map((condition) => condition.id)),
		...choices.map((setting) => setting.options.map((option) => option.id))
	];
	const values = lists.map((list) => new Map(list.map((id, at) => [id, at])));
	const partAt = new Map(edition.parts.map((part, at) => [part.id, at]));
	const settingAt = new Map(choices.map((setting, at) => [setting.id, edition.parts.length + at]));
	const constants = new Map(
		edition.settings.filter((setting) => setting.kind === 'number').map((setting) => [setting.id, String(numbers[setting.id] ?? setting.default)])
	);
	const value = (digit: number, id: string) => values[digit]?.get(id) ?? NONE;

	function oneOf(digit: number, ids: readonly string[]): Test {
		const wanted = new Uint8Array(256);
		for (const id of ids) if (value(digit, id) !== NONE) wanted[value(digit, id)] = 1;
		return (digits, at) => wanted[digits[at + digit] ?? NONE] === 1;
	}
	function test(condition: Condition): Test {
		if ('part' in condition) {
			const digit = partAt.get(condition.part);
			return digit === undefined ? () => false : oneOf(digit, condition.is);
		}
		if ('setting' in condition) {
			const digit = settingAt.get(condition.setting);
			if (digit !== undefined) return oneOf(digit, condition.is);
			const holds = condition.is.includes(constants.get(condition.setting) ?? '');
			return () => holds;
		}
		if ('not' in condition) {
			const inner = test(condition.not);
			return (digits, at) => !inner(digits, at);
		}
		return 'all' in condition ? both(condition.all.map(test)) : either(condition.any.map(test));
	}
	return {
		width: lists.length,
		partCount: edition.parts.length,
		sizes: lists.map((list) => list.length),
		partDigit: (part) => partAt.get(part) ?? -1,
		settingDigit: (setting) => settingAt.get(setting) ?? -1,
		value,
		name: (digit, at) => lists[digit]?.[at] ?? '?',
		encode: (parts, settings) =>
			Uint8Array.from(lists, (_, digit) => {
				const choice = choices[digit - edition.parts.length];
				return value(digit, choice ? String(settings[choice.id] ?? choice.default) : (parts[edition.parts[digit]?.id ?? ''] ?? ''));
			}),
		decode: (digits, at) => ({
			parts: Object.fromEntries(edition.parts.map((part, digit) => [part.id, lists[digit]?.[digits[at + digit] ?? NONE] ?? '?'])),
			settings: Object.fromEntries(
				choices.map((choice, n) => [choice.id, lists[edition.parts.length + n]?.[digits[at + edition.parts.length + n] ?? NONE] ?? '?'])
			)
		}),
		test
	};
}

function both(tests: readonly Test[]): Test {
	const [a, b] = tests;
	if (!a) return () => true;
	if (!b) return a;
	if (tests.length === 2) return (digits, at) => a(digits, at) && b(digits, at);
	return (digits, at) => {
		for (const one of tests) if (!one(digits, at)) return false;
		return true;
	};
}

function either(tests: readonly Test[]): Test {
	return (digits, at) => {
		for (const one of tests) if (one(digits, at)) return true;
		return false;
	};
}
