import { Composer, type CST, type Document, isAlias, isMap, isScalar, isSeq, Lexer, LineCounter, type Node, type Pair, Parser } from 'yaml';
import type { Fault, Position } from './fault';
import { limits } from './limits';
import { yamlSentence } from './yaml-sentence';

export type Path = readonly (string | number)[];
/** Plain value of a file: text, numbers, booleans, null, lists and maps. */
export type Plain = string | number | boolean | null | Plain[] | { [key: string]: Plain };

/** A file that was read: its plain value, and where each piece of it stands. */
export interface Source {
	readonly file: string;
	readonly value: Plain;
	/** Place of the value at `path`, or of the nearest piece above it that exists. `key`: the place of its key instead. */
	position(path: Path, key?: boolean): Position;
}

/**
 * Reads one YAML file into a plain value with places. Every fault of the text is told; with any, there is no source.
 * Time and memory are bounded by `limits`; aliases, anchors and tags are refused because fragments do their work.
 */
export function readSource(text: string, file: string): { source: Source } | { faults: Fault[] } {
	const counter = new LineCounter();
	counter.addNewLine(0);
	const at = (offset: number): Position => {
		const { line, col } = counter.linePos(offset);
		return { file, line: Math.max(1, line), column: Math.max(1, col) };
	};
	const fault = (offset: number, sentence: string): Fault => ({ ...at(offset), sentence });

	if (text.length > limits.fileLength)
		return { faults: [{ file, line: 1, column: 1, sentence: `the file has ${text.length} characters; expected at most ${limits.fileLength}` }] };
	const odd = oddCharacter(text);
	if (odd) {
		for (let i = text.indexOf('\n'); i !== -1 && i < odd.offset; i = text.indexOf('\n', i + 1)) counter.addNewLine(i + 1);
		return { faults: [fault(odd.offset, odd.sentence)] };
	}
	const tokens = tokensOf(text, counter);
	if ('deep' in tokens)
		return { faults: [fault(tokens.deep, `lists and maps are nested deeper than ${limits.depth}; expected a flatter file`)] };

	const documents = [...new Composer({ uniqueKeys: false, version: '1.2', schema: 'core', merge: false }).compose(tokens.tokens)];
	const first = documents[0] as Document.Parsed | undefined;
	const faults = documents.flatMap((d) => d.errors.map((e) => fault(e.pos[0], yamlSentence(e.code, e.message))));
	if (documents.length > 1) faults.push(fault(documents[1]?.range?.[0] ?? 0, 'a second document begins here; expected one procedure a file'));
	if (!first?.contents) return { faults: faults.length > 0 ? faults : [fault(0, 'the file is empty; expected a procedure')] };
	if (faults.length > 0) return { faults };

	let nodes = 0;
	const plain = (node: Node | null): Plain => {
		if (++nodes === limits.nodes + 1) faults.push(fault(node?.range?.[0] ?? 0, `the file holds more than ${limits.nodes} values; expected fewer`));
		if (node === null || nodes > limits.nodes) return null;
		const place = node.range?.[0] ?? 0;
		if (isAlias(node)) {
			faults.push(fault(place, `"*${node.source}" is an alias; expected the text itself, or a fragment with "use"`));
			return null;
		}
		if ('anchor' in node && node.anchor) faults.push(fault(place, `"&${node.anchor}" is an anchor; expected a fragment instead`));
		if (node.tag) faults.push(fault(place, `"${node.tag}" is a tag; expected plain text, numbers, lists and maps`));
		if (isSeq(node)) return node.items.map((item) => plain(item as Node));
		if (isMap(node)) {
			const map: { [key: string]: Plain } = {};
			for (const { key, value } of node.items) {
				const keyPlace = (key as Node | null)?.range?.[0] ?? place;
				if (!isScalar(key) || key.value === null || key.value === '') {
					faults.push(fault(keyPlace, 'a key is missing or is not plain text; expected "name: value"'));
					continue;
				}
				const name = String(key.source ?? key.value);
				if (name === '__proto__') faults.push(fault(keyPlace, '"__proto__" cannot be a key; expected another name'));
				else if (Object.hasOwn(map, name)) faults.push(fault(keyPlace, `"${name}" stands twice in the same map; expected each key once`));
				else map[name] = plain(value as Node | null);
			}
			return map;
		}
		const value = (node as { value?: unknown }).value;
		if (typeof value === 'string' || typeof value === 'boolean' || value === null) return value;
		if (typeof value === 'number' && Number.isFinite(value) && (!Number.isInteger(value) || Number.isSafeInteger(value))) return value;
		faults.push(fault(place, `"${String((node as { source?: string }).source ?? value)}" is not a number that can be kept; expected a finite number or quoted text`));
		return null;
	};
	const value = plain(first.contents as Node);
	if (faults.length > 0) return { faults };

	const root = first.contents as Node;
	const position = (path: Path, key = false): Position => {
		let node: Node | null = root;
		let place = root.range?.[0] ?? 0;
		for (const [i, name] of path.entries()) {
			if (isSeq(node) && typeof name === 'number') node = (node.items[name] as Node | undefined) ?? null;
			else if (isMap(node)) {
				const pair: Pair | undefined = node.items.find((p: Pair) => isScalar(p.key) && String(p.key.source ?? p.key.value) === String(name));
				if (pair && key && i === path.length - 1) return at((pair.key as Node).range?.[0] ?? place);
				node = (pair?.value as Node | null | undefined) ?? null;
				if (pair && !node) return at((pair.key as Node).range?.[0] ?? place);
			} else node = null;
			if (!node) break;
			place = node.range?.[0] ?? place;
		}
		return at(place);
	};
	return { source: { file, value, position } };
}

/** Tokens of the text, or the offset at which it gets too deep: measured before composing, which recurses. */
function tokensOf(text: string, counter: LineCounter): { tokens: CST.Token[] } | { deep: number } {
	const parser = new Parser(counter.addNewLine);
	const tokens: CST.Token[] = [];
	for (const lexeme of new Lexer().lex(text)) {
		for (const token of parser.next(lexeme)) tokens.push(token);
		if (parser.stack.length > limits.depth + 1) return { deep: parser.offset };
	}
	for (const token of parser.end()) tokens.push(token);
	return { tokens };
}

/** C0 controls save tab, line feed and carriage return; lone surrogates, which no canonical JSON can hold. */
// eslint-disable-next-line no-control-regex
const odd = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\u007F]|[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/;

function oddCharacter(text: string): { offset: number; sentence: string } | null {
	const found = odd.exec(text);
	if (!found) return null;
	const code = found[0].charCodeAt(0).toString(16).toUpperCase().padStart(4, '0');
	return { offset: found.index, sentence: `the character U+${code} cannot be kept; expected plain text in UTF-8` };
}
