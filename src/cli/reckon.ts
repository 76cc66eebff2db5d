import { solve, type Given, type Solved } from '$lib/metrology/solve';
import type { Input, Point, PointsInput, QuantityInput, Reckoning } from '$lib/metrology/reckoning';
import { reckonings, reckoningNamed } from '$lib/metrology/registry';
import { quantityText } from '$lib/metrology/quantityText';
import { acceptedUnits, parseQuantity, siUnit } from '$lib/metrology/units';
import type { Words } from '$lib/metrology/words';
import * as m from '$lib/paraglide/messages';
import { inputLabel, outputLabel, reckoningTitle, reckoningWhy } from '$lib/session/reckoning-words';
import { expectedText, formulaText, inputSourceText, sourceText } from '$lib/session/sum-sources';
import { sumText } from '$lib/session/sum-words';
import { BadUse, type Command, type ExitCode } from './command';

/** `handrail reckon`: any of the sums outside a run. */
export const reckon: Command = {
	purpose: 'two-beam geometry, cutting and depositing: a result from readings',
	usage: [
		'usage: handrail reckon NAME key=value… [--json]',
		'       handrail reckon --list [--json]',
		'',
		'A value is a number and a unit, with its standard uncertainty if there is one: 30um, "30 ± 1.5 µm", 52deg, 30um±5%.',
		'Corners of a polygon: "0,0; 10,0; 10,5 um". Results are SI in --json.',
		'Exit: 0 reckoned, 1 the formula does not work there (the reason is told), 2 bad input.'
	].join('\n'),
	async run(args, io): Promise<ExitCode> {
		const json = args.includes('--json');
		const rest = args.filter((arg) => arg !== '--json');
		if (rest.includes('--list')) {
			if (rest.length > 1)
				throw new BadUse(`--list takes nothing else; got ${rest.filter((arg) => arg !== '--list').join(' ')}`);
			io.out(
				json ? JSON.stringify(reckonings.map(listed), null, '\t') + '\n' : reckonings.map(listText).join('\n') + '\n'
			);
			return 0;
		}
		const [name, ...pairs] = rest;
		if (name === undefined) throw new BadUse('no reckoning named; expected NAME key=value…, or --list for the names');
		const reckoning = reckoningNamed(name);
		if (!reckoning)
			throw new BadUse(`no reckoning "${name}"; expected one of ${reckonings.map((each) => each.name).join(', ')}`);
		const solved = solve(reckoning, parsePairs(reckoning, pairs));
		if (solved.kind === 'bad input') throw new BadUse(solved.faults.map(said).join('\n  '));
		if (solved.kind === 'refused') {
			if (json) io.out(JSON.stringify({ name, refused: said(solved.reason) }) + '\n');
			else io.err(`${name}: ${said(solved.reason)}\n`);
			return 1;
		}
		io.out(json ? JSON.stringify(asJson(reckoning, solved), null, '\t') + '\n' : asText(reckoning, solved));
		return 0;
	}
};

/** The words that a screen would show; an input is called by the name that it has here. */
const said = (words: Words): string => sumText(words, (input) => input);

function parsePairs(reckoning: Reckoning, pairs: readonly string[]): Record<string, Given> {
	const given: Record<string, Given> = {};
	const faults: string[] = [];
	for (const pair of pairs) {
		const at = pair.indexOf('=');
		if (at < 1) throw new BadUse(`"${pair}" is not key=value`);
		const name = pair.slice(0, at);
		const text = pair.slice(at + 1);
		if (Object.hasOwn(given, name)) throw new BadUse(`"${name}" is given twice`);
		const input = Object.hasOwn(reckoning.inputs, name) ? reckoning.inputs[name] : undefined;
		if (!input)
			throw new BadUse(
				`${reckoning.name} has no input "${name}"; expected ${Object.keys(reckoning.inputs).join(', ')}`
			);
		const parsed = parseInput(name, input, text);
		if ('wrong' in parsed)
			faults.push(`${name}: ${said(parsed.wrong)}${input.kind === 'quantity' ? ` ${m.sum_expected_range({ range: expectedText(input) })}` : ''}`);
		else given[name] = parsed;
	}
	if (faults.length > 0) throw new BadUse(faults.join('\n  '));
	return given;
}

function parseInput(name: string, input: Input, text: string): Given | { wrong: Words } {
	if (input.kind === 'choice') return { choice: text };
	return input.kind === 'quantity' ? parseQuantity(text, input.dimension) : parsePoints(name, input, text);
}

/** "x,y; x,y; x,y unit ± s unit": decimal points only, since the comma parts x from y. */
function parsePoints(name: string, { least, most, usual }: PointsInput, text: string): Given | { wrong: Words } {
	const wrong = { wrong: { key: 'noCorners', parameters: { text, least, most, unit: usual } } } as const;
	const [before = '', spread, ...more] = text.split('±');
	const parts = /^(.*\d)\s*([^\d\s;,]+)\s*$/u.exec(before);
	if (!parts || more.length > 0) return wrong;
	const [, list = '', unit = ''] = parts;
	const points: Point[] = [];
	for (const corner of list.split(';')) {
		const [x, y, third] = corner.split(',').map((coordinate) => parseQuantity(coordinate.trim() + unit, 'length'));
		if (!x || !y || third || 'wrong' in x || 'wrong' in y) return wrong;
		points.push([x.value, y.value]);
	}
	if (spread === undefined) return { points };
	const parsed = parseQuantity(/[^\d.\s]/u.test(spread) ? spread : spread + unit, 'length');
	return 'wrong' in parsed ? parsed : { points, uncertainty: parsed.value };
}

function asJson(reckoning: Reckoning, solved: Solved): object {
	return {
		name: reckoning.name,
		results: Object.fromEntries(
			Object.entries(solved.results).map(([name, result]) => [
				name,
				{ ...result, unit: siUnit(reckoning.outputs[name]!.dimension) }
			])
		),
		...(solved.questioned ? { questioned: said(solved.questioned) } : {}),
		words: solved.questioned ? [] : solved.words.map(said),
		used: solved.used,
		defaults: solved.defaulted,
		formula: formulaText(reckoning.name),
		source: sourceText(reckoning.name)
	};
}

/** The questioned result is asked, not said: the move's words are held back. */
function asText(reckoning: Reckoning, solved: Solved): string {
	const lines = Object.entries(solved.results).map(([name, result]) => {
		const { dimension, usual } = reckoning.outputs[name]!;
		const text = (value: number): string => quantityText(value, dimension, usual);
		const spread = result.interval
			? ` (95 % between ${text(result.interval[0])} and ${text(result.interval[1])})`
			: result.uncertainty
				? ` ± ${text(result.uncertainty)}`
				: '';
		return `${name.padEnd(14)} ${text(result.value)}${spread}   ${outputLabel(name, reckoning.name)}`;
	});
	const sentences = solved.questioned ? [`? ${said(solved.questioned)}`] : solved.words.map(said);
	const defaults = solved.defaulted.map(
		(name) => `(${name}: ${defaultText(reckoning.inputs[name]!)}; ${inputSourceText(reckoning.inputs[name]!.source)})`
	);
	return [...lines, ...sentences, ...defaults].join('\n') + '\n';
}

function defaultText(input: Input): string {
	if (input.kind === 'quantity') return quantityText(input.default ?? NaN, input.dimension, input.usual);
	return input.kind === 'choice' ? (input.default ?? '') : '';
}

const purposeText = ({ name }: Reckoning): string => `${reckoningTitle(name)}. ${reckoningWhy(name)}`;

function listed(reckoning: Reckoning): object {
	return {
		name: reckoning.name,
		purpose: purposeText(reckoning),
		formula: formulaText(reckoning.name),
		source: sourceText(reckoning.name),
		inputs: Object.fromEntries(
			Object.entries(reckoning.inputs).map(([name, input]) => [name, listedInput(inputLabel(name, reckoning.name), input)])
		),
		outputs: Object.fromEntries(
			Object.entries(reckoning.outputs).map(([name, { dimension, usual }]) => [
				name,
				{ what: outputLabel(name, reckoning.name), unit: siUnit(dimension), usual }
			])
		)
	};
}

function listedInput(what: string, input: Input): object {
	const source = inputSourceText(input.source);
	if (input.kind === 'choice') return { what, options: input.options, default: input.default, source };
	if (input.kind === 'points')
		return { what, corners: [input.least, input.most], unit: 'm', usual: input.usual, source };
	return {
		what,
		unit: siUnit(input.dimension),
		usual: input.usual,
		accepts: acceptedUnits(input.dimension),
		min: input.min,
		max: input.max,
		...(input.default === undefined ? {} : { default: input.default }),
		optional: input.optional === true,
		source
	};
}

function listText(reckoning: Reckoning): string {
	const inputs = Object.entries(reckoning.inputs).map(([name, input]) => {
		const absent = isOptional(input)
			? `${m.sum_may_be_left_out()}; `
			: 'default' in input && input.default !== undefined
				? `${m.sum_default({ value: defaultText(input) })}; `
				: '';
		return `    ${name.padEnd(16)} ${inputLabel(name, reckoning.name)}; ${expectedText(input)}; ${absent}${inputSourceText(input.source)}`;
	});
	return [
		`${reckoning.name}: ${purposeText(reckoning)}`,
		`    ${formulaText(reckoning.name)} (${sourceText(reckoning.name)})`,
		...inputs,
		''
	].join('\n');
}

const isOptional = (input: Input): boolean => (input as Partial<QuantityInput>).optional === true;
