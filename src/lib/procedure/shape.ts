import type { z } from 'zod';
import type { Fault } from './fault';
import { limits } from './limits';
import { didYouMean, nearest } from './nearest';
import { keysAt } from './schema-keys';
import type { Path, Plain, Source } from './source';
import { sameWords } from './words';

type Issue = z.core.$ZodIssue;

/** What the schema made of a file: the typed value (faulty pieces taken out, so that the rest can be looked at too) and the faults. */
export interface Shaped<T> {
	/** Null where so much is missing that nothing can be said about the rest. */
	readonly value: T | null;
	readonly faults: Fault[];
	/** Words of the pieces taken out: a reference to one of them is no fault of its own. */
	readonly takenOut: ReadonlySet<string>;
}

/**
 * Looks at a file with a schema and tells every fault at its place. `instead`: values for keys at the top that are missing
 * or faulty, so that the rest can be looked at all the same.
 */
export function shape<S extends z.ZodType>(schema: S, source: Source, instead: Readonly<Record<string, Plain>> = {}): Shaped<z.output<S>> {
	const takenOut = new Set<string>();
	let value = source.value;
	let faults: Fault[] | null = null;
	for (let round = 0; round < 16; round++) {
		const result = schema.safeParse(value);
		if (result.success) return { value: result.data, faults: faults ?? [], takenOut };
		const issues = result.error.issues.flatMap((issue) => pointed(issue, value));
		// later rounds only see what follows from the first
		faults ??= issues.slice(0, limits.faults + 1).map((issue) => told(issue, schema, value, source));
		const pruned = without(value, issues, schema, instead, takenOut);
		if (pruned === null) break;
		value = pruned;
	}
	return { value: null, faults: faults ?? [], takenOut };
}

/** Issues of the branch of a union that was meant: the one whose own type fits. */
function pointed(issue: Issue, root: Plain): Issue[] {
	if (issue.code !== 'invalid_union') {
		if (issue.code !== 'unrecognized_keys') return [issue];
		return issue.keys.map((key) => ({ ...issue, keys: [key], path: [...issue.path] }));
	}
	const meant = issue.errors
		.filter((branch) => !branch.some((inner) => inner.path.length === 0 && inner.code === 'invalid_type'))
		.sort((a, b) => a.length - b.length)[0];
	if (!meant) return [issue];
	return meant.flatMap((inner) => pointed({ ...inner, path: [...issue.path, ...inner.path] } as Issue, root));
}

function told(issue: Issue, schema: z.ZodType, root: Plain, source: Source): Fault {
	const path = issue.path as Path;
	if (issue.code === 'unrecognized_keys') {
		const key = issue.keys[0] as string;
		const known = keysAt(schema, path);
		const expected = known.length > 0 && known.length <= 12 ? `; expected ${known.join(', ')}` : '; expected a key of the language';
		return { ...source.position([...path, key], true), sentence: `"${short(key)}" is not known here${didYouMean(key, known) || expected}` };
	}
	const value = valueAt(root, path);
	if (value === undefined) {
		const place = source.position(path.slice(0, -1));
		return { ...place, sentence: `"${String(path.at(-1))}" is missing; expected ${expectation(issue)}` };
	}
	if (issue.code === 'invalid_key') return { ...source.position(path, true), sentence: `"${short(String(path.at(-1)))}" cannot be a name here; expected ${expectation((issue.issues[0] ?? issue) as Issue)}` };
	return { ...source.position(path), sentence: `${shown(value)} stands here; expected ${expectation(issue)}` };
}

/** What was expected, in words. */
function expectation(issue: Issue): string {
	switch (issue.code) {
		case 'invalid_type':
			return typeWords[issue.expected] ?? issue.expected;
		case 'too_small':
			return `at least ${issue.minimum}${issue.origin === 'string' ? ' characters' : issue.origin === 'array' ? ' entries' : ''}`;
		case 'too_big':
			return `at most ${issue.maximum}${issue.origin === 'string' ? ' characters' : issue.origin === 'array' ? ' entries' : ''}`;
		case 'invalid_value':
			return issue.values.map((v) => `"${String(v)}"`).join(' or ');
		case 'invalid_format':
			return formats.find(([pattern]) => 'pattern' in issue && String(issue.pattern) === String(pattern))?.[1] ?? 'another form';
		case 'invalid_union':
			return [...new Set(issue.errors.map((branch) => branch[0]).filter((i): i is Issue => i !== undefined).map(expectation))].join(' or ');
		default:
			return 'something else';
	}
}

const typeWords: Readonly<Record<string, string>> = {
	string: 'a text (in quotes where it could be read as a number)',
	number: 'a number',
	int: 'a whole number',
	boolean: 'true or false',
	array: 'a list',
	tuple: 'a list of two numbers',
	object: 'a map of "name: value"',
	record: 'a map of "name: value"'
};
const formats: readonly (readonly [RegExp, string])[] = [
	[/^[a-z][a-z0-9-]*$/, 'lower-case letters, digits and hyphens, beginning with a letter'],
	[/^\d+(\.\d+)? ?(s|min|h)$/, 'a duration such as "90 s", "5 min" or "1 h"'],
	[/^\d+\.\d+\.\d+$/, 'a version such as "1.0.0"'],
	[/^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$/, 'a language tag such as "en"']
];

const short = (text: string): string => (text.length > 60 ? `${text.slice(0, 57)}…` : text);
function shown(value: Plain): string {
	if (value === null) return 'nothing';
	if (Array.isArray(value)) return 'a list';
	if (typeof value === 'object') return 'a map';
	return typeof value === 'string' ? `"${short(value)}"` : String(value);
}

function valueAt(root: Plain, path: Path): Plain | undefined {
	let value: Plain | undefined = root;
	for (const name of path) {
		if (value === null || typeof value !== 'object') return undefined;
		value = Object.hasOwn(value, name) ? (value as Record<string, Plain>)[name] : undefined;
	}
	return value;
}

/** The value without what the issues point at, mistyped keys put right; null if nothing can be mended any more. */
function without(root: Plain, issues: readonly Issue[], schema: z.ZodType, instead: Readonly<Record<string, Plain>>, takenOut: Set<string>): Plain | null {
	const copy = structuredClone(root);
	const holes = new Set<Plain[]>();
	let mended = false;
	for (const issue of issues) {
		const unknown = issue.code === 'unrecognized_keys';
		let path: Path = unknown ? [...(issue.path as Path), issue.keys[0] as string] : (issue.path as Path);
		if (path.length === 1 && !unknown && copy !== null && typeof copy === 'object' && !Array.isArray(copy)) {
			const key = String(path[0]);
			if (Object.hasOwn(instead, key) && copy[key] !== instead[key]) {
				copy[key] = instead[key] as Plain;
				mended = true;
				continue;
			}
		}
		if (valueAt(copy, path) === undefined && !unknown) path = path.slice(0, -1);
		const name = path.at(-1);
		const owner = path.length === 0 ? undefined : valueAt(copy, path.slice(0, -1));
		if (name === undefined || owner === null || typeof owner !== 'object' || !Object.hasOwn(owner, name)) continue;
		const map = owner as Record<string, Plain>;
		const meant = unknown ? nearest(String(name), keysAt(schema, issue.path as Path)) : null;
		if (meant !== null && !Object.hasOwn(map, meant)) map[meant] = map[name] as Plain;
		else mention(map[name] as Plain, takenOut);
		takenOut.add(sameWords(String(name)));
		if (Array.isArray(owner)) {
			owner[Number(name)] = hole;
			holes.add(owner);
		} else delete map[name];
		mended = true;
	}
	for (const list of holes) list.splice(0, list.length, ...list.filter((item) => item !== hole));
	return mended ? copy : null;
}
/** Marks an entry to be taken out of a list; no file can hold it, because control characters are refused. */
const hole = '\u0000';

function mention(value: Plain, into: Set<string>): void {
	if (typeof value === 'string') into.add(sameWords(value));
	else if (Array.isArray(value)) value.forEach((item) => mention(item, into));
	else if (value !== null && typeof value === 'object')
		for (const [key, item] of Object.entries(value)) {
			into.add(sameWords(key));
			mention(item, into);
		}
}
