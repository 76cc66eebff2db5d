import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { compileProcedure } from './compile';
import { faultLine } from './fault';
import { limits } from './limits';

const faults = (text: string) => {
	const made = compileProcedure(text, 'f.yaml', () => text);
	return 'faults' in made ? made.faults : [];
};
const first = (text: string): string => faultLine(faults(text)[0] ?? { file: '', line: 0, column: 0, sentence: 'no fault' });
const head = 'procedure: p\nversion: 1.0.0\ntitle: T\nsummary: S\nparts: { probe: { conditions: [out] } }\nends: { complete: always, safe: always }\n';
const oneStep = 'stages: [{ stage: S, steps: [{ do: Look. }] }]\n';

describe('a hostile file gets a sentence, in bounded time and memory (L14)', () => {
	it('10 MB', () => expect(first('a'.repeat(10_000_000))).toMatch(/has 10000000 characters; expected at most 1000000$/));
	it('1 MB of one key a line', () => {
		const text = Array.from({ length: 90_000 }, (_, i) => `k${i}: 1`).join('\n');
		expect(first(text)).toMatch(/more than 60000 values; expected fewer/);
	});
	it('a million dashes, brackets, quotes, question marks', () => {
		for (const sign of ['- ', '[', '{', '"', "'", '? ', ': ', '&a ', '!', '\n', '|\n', '*a ']) expect(faults(sign.repeat(400_000)).length).toBeGreaterThan(0);
	});
	it('depth 10,000 in brackets and in blocks', () => {
		expect(first('['.repeat(10_000) + ']'.repeat(10_000))).toMatch(/nested deeper than 32; expected a flatter file$/);
		expect(first(Array.from({ length: 1_000 }, (_, i) => `${' '.repeat(i)}a:`).join('\n'))).toMatch(/nested deeper than 32/);
		expect(first('- '.repeat(10_000) + 'a')).toMatch(/nested deeper than 32/);
	});
	it('an alias bomb', () => {
		const bomb = `a: &a [x, x]\nb: &b [*a, *a]\nc: &c [*b, *b]\n${head}`;
		expect(first(bomb)).toMatch(/^f\.yaml:1:7: "&a" is an anchor; expected a fragment instead$/);
		expect(faults(bomb).length).toBe(7);
	});
	it('a fragment that uses itself, and fragments that double', () => {
		expect(first(`${head}stages: [{ stage: S, steps: [{ use: a }] }]\nfragments: { a: { steps: [{ use: b }] }, b: { steps: [{ use: a }] } }`)).toMatch(/the fragment "a" uses itself/);
		const levels = 7;
		const doubling = Array.from({ length: levels }, (_, i) => `  f${i}: { steps: [${Array.from({ length: 8 }, (_, j) => `{ use: f${i + 1}, id: u${j} }`).join(', ')}] }`).join('\n');
		const text = `${head}stages: [{ stage: S, steps: [{ use: f0 }] }]\nfragments:\n${doubling}\n  f${levels}: { steps: [{ do: Look. }] }`;
		expect(first(text)).toMatch(/more than 5000 steps once fragments are unfolded/);
	});
	it('"only if" that divides the way without end', () => {
		const many = Array.from({ length: 200 }, (_, i) => `{ do: Look ${i}., only if: probe out }`).join(', ');
		expect(first(`${head}stages: [{ stage: S, steps: [{ do: Begin. }, ${many}] }]`)).toMatch(/more than 64 steps with "only if"/);
	});
	it('200 faults at most', () => {
		const text = head + oneStep + Array.from({ length: 3_000 }, (_, i) => `wrong${i}: 1`).join('\n');
		expect(faults(text)).toHaveLength(limits.faults);
		expect(faults(text).at(-1)?.sentence).toMatch(/more than 200 faults/);
	});
	it('files that include themselves', () => {
		const text = `${head}include: [f.yaml]\n${oneStep}`;
		expect(faults(text).length).toBeGreaterThan(0);
		const made = compileProcedure(`${head}include: [l.yaml]\n${oneStep}`, 'f.yaml', () => 'library: l\ninclude: [l.yaml]');
		expect('edition' in made).toBe(true);
	});
	it.each([
		['tabs', `parts:\n\tprobe: 1`, /^f\.yaml:2:1: a tab indents this line; expected spaces$/],
		['NUL', `${head}\u0000`, /^f\.yaml:7:1: the character U\+0000 cannot be kept/],
		['an escape', `a\n b\u001b`, /^f\.yaml:2:3: the character U\+001B/],
		['a lone surrogate', `title: \ud800`, /the character U\+D800 cannot be kept/],
		['__proto__', `${head}${oneStep}__proto__: { polluted: true }`, /"__proto__" cannot be a key/],
		['two documents', `${head}${oneStep}---\na: 1`, /a second document begins here/],
		['nothing', '', /the file is empty; expected a procedure/],
		['a comment', '# nothing', /the file is empty/],
		['a list', '- a', /a list stands here; expected a map/],
		['a tag', `title: !!js/function x`, /is a tag|a tag stands here/],
		['no number', `${head}${oneStep}settings: { a: { unit: m, min: .nan, max: 1, default: 1 } }`, /"\.nan" is not a number that can be kept/],
		['a huge number', `${head}${oneStep}settings: { a: { unit: m, min: 1e999, max: 1, default: 1 } }`, /is not a number that can be kept/]
	])('%s', (_, text, sentence) => expect(first(text)).toMatch(sentence));
	it('a byte order mark is no fault', () => expect(faults(`\ufeff${head}${oneStep}`)).toEqual([]));
	it('Windows line ends are no fault', () => expect(faults((head + oneStep).replaceAll('\n', '\r\n'))).toEqual([]));
	it('does not reach Object.prototype', () => {
		faults(`${head}${oneStep}constructor: { prototype: { polluted: true } }\nparts: { toString: { conditions: [out] } }`);
		expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
	});
	it('answers by names of Object.prototype are only names', () => {
		const made = compileProcedure(`${head}stages: [{ stage: S, steps: [{ check: Look., answers: { constructor: next, valueOf: next } }] }]`, 'f.yaml');
		expect('edition' in made && made.edition.steps['s/look']?.outcomes.map(({ id }) => id)).toEqual(['constructor', 'valueof']);
	});
});

describe('no text makes the compiler throw', () => {
	// the reference's example: small, and with every kind of key
	const reference = readFileSync(new URL('../../../tests/behaviour/procedure-language.md', import.meta.url), 'utf8');
	const example = /```yaml\n([\s\S]*?)```/.exec(reference)?.[1] ?? '';
	const include = (name: string) => (name === 'fragments.yaml' ? 'library: fragments' : undefined);
	const answered = (text: string): void => {
		const made = compileProcedure(text, 'f.yaml', include);
		if ('edition' in made) return;
		expect(made.faults.length).toBeGreaterThan(0);
		for (const { line, column, sentence } of made.faults) {
			expect(line).toBeGreaterThan(0);
			expect(column).toBeGreaterThan(0);
			expect(sentence).toMatch(/\S/);
			expect(sentence).not.toMatch(/undefined|\[object|\bat .*:\d+:\d+\)/);
		}
	};
	it('any string', () => fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 200 }), answered), { seed: 71, numRuns: 150 }));
	it('strings of the signs that YAML gives a meaning', () =>
		fc.assert(fc.property(fc.string({ unit: fc.constantFrom(...'-?:,[]{}#&*!|>\'"%@` \nab<>~.0'), maxLength: 80 }), answered), { seed: 72, numRuns: 500 }));
	it('the example with a piece cut out, doubled or replaced', () =>
		fc.assert(
			fc.property(fc.nat(example.length - 1), fc.nat(60), fc.constantFrom('', '\n', ': ', '- ', '{', ']', '"', '  ', 'null', '1', '[]', '{}', 'back', '<n>'), fc.boolean(), (at, length, put, double) => {
				const piece = example.slice(at, at + length);
				answered(example.slice(0, at) + (double ? piece + piece : put) + example.slice(at + length));
			}),
			{ seed: 73, numRuns: 200 }
		));
	it('any JSON value in the place of any value of a small procedure', () => {
		const keys = ['version', 'title', 'parts', 'stages', 'troubles', 'ends', 'settings', 'fragments', 'invariants', 'start', 'include', 'languages'];
		fc.assert(
			fc.property(fc.constantFrom(...keys), fc.jsonValue({ maxDepth: 4 }), (key, value) => {
				const base: Record<string, unknown> = { procedure: 'p', version: '1.0.0', title: 'T', summary: 'S', parts: { probe: { conditions: ['out'] } }, stages: [{ stage: 'S', steps: [{ do: 'Look.' }] }], ends: { complete: 'always', safe: 'always' } };
				answered(JSON.stringify({ ...base, [key]: value }));
			}),
			{ seed: 74, numRuns: 200 }
		);
	});
});
