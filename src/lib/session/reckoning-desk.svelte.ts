import type { Axis } from '$lib/metrology/axes';
import { axisMoved } from '$lib/metrology/moves';
import type { Input, Point, QuantityInput, Reckoning, Value } from '$lib/metrology/reckoning';
import { rangeOf, solve, type Given, type Refused, type Solved } from '$lib/metrology/solve';
import { acceptedUnits, inUnit, parseQuantity } from '$lib/metrology/units';
import * as m from '$lib/paraglide/messages';
import { unitsText } from './move-words';
import { inputLabel } from './reckoning-words';

/** One sum outside a run: what was keyed, dragged or is set, and what comes of it at once. */

export interface Field {
	readonly name: string;
	readonly input: Input;
	/** As typed: a number, with "± s" behind it where it is uncertain; the unit may be typed too. For points: one corner a line. */
	readonly text: string;
	readonly unit: string;
	/** Where the value in use is from; `missing` where one must be given. */
	readonly from: 'given' | 'setting' | 'default' | 'left out' | 'missing';
	/** What is wrong with what was typed, in one sentence. */
	readonly fault: string | null;
}

export interface Desk {
	readonly reckoning: Reckoning;
	readonly fields: readonly Field[];
	/** Name of the field that keys go to. */
	readonly active: string;
	/** Null while an input is missing or faulty. */
	readonly solved: Solved | Refused | null;
	/** What is known so far, defaults and settings filled in. */
	readonly known: Readonly<Record<string, Value>>;
	activate(name: string): void;
	type(name: string, text: string): void;
	/** A key of the keypad, to the active field. */
	key(key: string): void;
	setUnit(name: string, unit: string): void;
	choose(name: string, option: string): void;
	/** Values in SI, as dragged on the drawing; an uncertainty that was typed stays. */
	drag(numbers: Readonly<Record<string, number>>): void;
	/** A corner of a list of points moved to a place in SI. */
	dragCorner(name: string, index: number, point: { readonly x?: number | undefined; readonly y?: number | undefined }): void;
	/** Takes everything that was given away. */
	clear(): void;
}

/** Longest text taken from the keypad. */
const LONGEST = 24;
const PLUS_MINUS = ' ± ';

/** Values in SI, or options, that this device knows: used where nothing was given. */
export type KnownSettings = Readonly<Record<string, number | string>>;

/** What settings depend on: the axis that the sum moves now (null where it moves none), and the material that was chosen. */
export interface Chosen {
	readonly axis: Axis | null;
	readonly material: string | undefined;
}

export function createDesk(reckoning: Reckoning, settings: (chosen: Chosen) => KnownSettings): Desk {
	const names = Object.keys(reckoning.inputs);
	let texts = $state.raw<Readonly<Record<string, string>>>({});
	let units = $state.raw<Readonly<Record<string, string>>>({});
	let active = $state(names[0] ?? '');

	const read = $derived(names.map((name) => readField(name)));
	const given = $derived(Object.fromEntries(read.flatMap(({ field, given }) => (given ? [[field.name, given]] : []))));
	const solved = $derived.by(() => {
		if (read.some(({ field }) => field.fault !== null || field.from === 'missing')) return null;
		const found = solve(reckoning, given);
		// every input was checked above: what is left is a fault of this file
		if (found.kind === 'bad input') throw new Error(found.faults.map(({ key }) => key).join('; '));
		return found;
	});
	const known = $derived(
		Object.fromEntries(
			names.map((name): [string, Value] => {
				const at = given[name];
				if (!at) return [name, defaultOf(reckoning.inputs[name] as Input)];
				return [name, 'choice' in at ? at.choice : 'points' in at ? at.points : at.value];
			})
		)
	);

	function readField(name: string): { field: Field; given: Given | null } {
		const input = reckoning.inputs[name] as Input;
		const text = texts[name] ?? '';
		const unit = units[name] ?? (input.kind === 'choice' ? '' : input.usual);
		const field = { name, input, text, unit, fault: null };
		const set = settings({ axis: axisMoved(reckoning.name, texts.axis), material: texts.material })[name];
		if (text.trim() === '') {
			if (set !== undefined && fits(input, set)) return { field: { ...field, from: 'setting' }, given: typeof set === 'number' ? { value: set } : { choice: set } };
			if (defaultOf(input) !== undefined) return { field: { ...field, from: 'default' }, given: null };
			return { field: { ...field, from: 'optional' in input ? 'left out' : 'missing' }, given: null };
		}
		const parsed = parse(name, input, text, unit);
		return 'fault' in parsed ? { field: { ...field, from: 'given', fault: parsed.fault }, given: null } : { field: { ...field, from: 'given' }, given: parsed };
	}

	const write = (name: string, text: string) => void (texts = { ...texts, [name]: text });

	return {
		reckoning,
		get fields() {
			return read.map(({ field }) => field);
		},
		get active() {
			return active;
		},
		get solved() {
			return solved;
		},
		get known() {
			return known;
		},
		activate: (name) => void (active = name),
		type: write,
		key(key) {
			const input = reckoning.inputs[active];
			if (!input || input.kind === 'choice') return;
			const text = texts[active] ?? '';
			if (key === 'send') active = nextOf(names, active, read.map(({ field }) => field));
			else write(active, keyed(text, key, input.kind === 'quantity' && input.min < 0));
		},
		setUnit: (name, unit) => void (units = { ...units, [name]: unit }),
		choose: write,
		drag(numbers) {
			const dragged = { ...texts };
			for (const [name, value] of Object.entries(numbers)) {
				const input = reckoning.inputs[name];
				if (input?.kind === 'points') continue;
				if (input?.kind === 'quantity') dragged[name] = draggedText(input, value, units[name] ?? input.usual, texts[name] ?? '');
			}
			texts = dragged;
		},
		dragCorner(name, index, { x, y }) {
			const at = given[name];
			const unit = units[name] ?? (reckoning.inputs[name]?.kind === 'points' ? reckoning.inputs[name].usual : 'µm');
			if (!at || !('points' in at)) return;
			const moved = at.points.map((point, i): Point => (i === index ? [x ?? point[0], y ?? point[1]] : point));
			write(name, moved.map((point) => point.map((coordinate) => figured(coordinate, unit)).join(', ')).join('\n'));
		},
		clear() {
			texts = {};
			active = names[0] ?? '';
		}
	};
}

const defaultOf = (input: Input): Value => ('default' in input ? input.default : undefined);
const fits = (input: Input, value: number | string): boolean =>
	input.kind === 'quantity' ? typeof value === 'number' && value >= input.min && value <= input.max : input.kind === 'choice' && input.options.includes(String(value));

/** The next input that still has nothing, after the active one; else the next one. */
function nextOf(names: readonly string[], active: string, fields: readonly Field[]): string {
	const at = names.indexOf(active);
	const order = [...names.slice(at + 1), ...names.slice(0, at)];
	const open = order.find((name) => fields.find((field) => field.name === name)?.from === 'missing');
	return open ?? order.find((name) => fields.find((field) => field.name === name)?.input.kind === 'quantity') ?? active;
}

/** `text` after a key. A key that makes no number changes nothing. */
function keyed(text: string, key: string, mayBeNegative: boolean): string {
	if (key === 'correct') return text.endsWith(PLUS_MINUS) ? text.slice(0, -PLUS_MINUS.length) : text.slice(0, -1);
	if (key === '-') return !mayBeNegative ? text : /^[-−]/.test(text) ? text.slice(1) : `-${text}`;
	if (key === '±') return /\d/.test(text) && !text.includes('±') ? text.trimEnd() + PLUS_MINUS : text;
	const part = text.split('±').at(-1) ?? '';
	if (key === '.' && part.includes('.')) return text;
	return text.length >= LONGEST ? text : text + key;
}

function parse(name: string, input: Input, text: string, unit: string): Given | { readonly fault: string } {
	const label = inputLabel(name);
	if (input.kind === 'choice') return { choice: text };
	if (input.kind === 'points') return parseCorners(text, unit, input.least, input.most, label);
	const parsed = parseQuantity(withUnit(text, unit), input.dimension);
	if ('wrong' in parsed) return { fault: m.reckon_fault_not_a_quantity({ label, text: text.trim(), units: unitsText(input.dimension) }) };
	if (parsed.value < input.min || parsed.value > input.max) return { fault: m.reckon_fault_range({ label, text: text.trim(), ...rangeOf(input) }) };
	return parsed;
}

/** Puts the field's unit behind a value that was typed without one. */
function withUnit(text: string, unit: string): string {
	const [value = '', ...spread] = text.split('±');
	const own = /[^\d\s.,+\-−eE]/u.test(value);
	return [own ? value : `${value.trim()} ${unit}`, ...spread].join('±');
}

/** One corner a line, "x, y", in the field's unit. */
function parseCorners(text: string, unit: string, least: number, most: number, label: string): Given | { readonly fault: string } {
	const points: Point[] = [];
	for (const line of text.split(/[;\n]/)) {
		if (line.trim() === '') continue;
		const [x, y, third] = line.split(',').map((part) => parseQuantity(`${part.trim()} ${unit}`, 'length'));
		if (!x || !y || third || 'wrong' in x || 'wrong' in y) return { fault: m.reckon_fault_corner({ line: line.trim() }) };
		points.push([x.value, y.value]);
	}
	if (points.length < least || points.length > most) return { fault: m.reckon_fault_corners({ label, count: points.length, least, most }) };
	return { points };
}

/** A dragged value at three figures, which is as fine as a hand sets it. */
function draggedText(input: QuantityInput, value: number, unit: string, before: string): string {
	const held = Math.max(input.min, Math.min(input.max, value));
	const [, spread] = before.split('±');
	const text = String(Number(inUnit(held, input.dimension, unit).toPrecision(3)));
	return spread === undefined ? text : text + PLUS_MINUS + spread.trim();
}

const figured = (lengthM: number, unit: string): string => String(Number(inUnit(lengthM, 'length', unit).toPrecision(3)));

/** Units offered beside a field: as many as stand in a row; any accepted one may be typed. */
export function offeredUnits(input: Input): readonly string[] {
	if (input.kind === 'choice') return [];
	if (input.kind === 'points') return ['µm', 'nm'];
	if (input.dimension === 'ratio') return [input.usual];
	const offered: Readonly<Record<string, readonly string[]>> = { length: ['µm', 'nm', 'mm'], angle: ['°', 'mrad'], current: ['pA', 'nA'], time: ['min', 's'] };
	return offered[input.dimension] ?? acceptedUnits(input.dimension).slice(0, 2);
}
