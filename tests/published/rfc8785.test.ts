import { readdirSync, readFileSync } from 'node:fs';
import canonicalize from 'canonicalize';
import { describe, expect, it } from 'vitest';
import { canonical, isCanonical } from '$lib/record/canonical';

/**
 * RFC 8785 (A. Rundgren, B. Jordan, S. Erdtman, JSON Canonicalization Scheme, June 2020).
 * Compared as strings: a canonical form has no tolerance.
 */

// The RFC's author's test data (github.com/cyberphone/json-canonicalization, testdata), as shipped in the package canonicalize.
const data = 'node_modules/canonicalize/test/testdata';
/** `values` holds 1e30, an integer beyond 2^53: RFC 7493 (I-JSON), on which RFC 8785 stands, advises against it, and a journal has none. */
const beyond = ['values.json'];

describe('P8785.1 the author’s test data', () => {
	const names = readdirSync(`${data}/input`);
	it('is all here', () => expect(names).toEqual(['arrays.json', 'french.json', 'structures.json', 'values.json', 'weird.json']));
	it.each(names)('%s', (name) => {
		const input: unknown = JSON.parse(readFileSync(`${data}/input/${name}`, 'utf8'));
		const output = readFileSync(`${data}/output/${name}`, 'utf8').trim();
		if (beyond.includes(name)) {
			expect(() => canonical(input)).toThrow('integer beyond 2^53 at $.numbers[1]');
			expect(canonicalize(input)).toBe(output);
			return;
		}
		expect(canonical(input)).toBe(output);
		expect(isCanonical(output, JSON.parse(output))).toBe(true);
		const pretty = readFileSync(`${data}/input/${name}`, 'utf8');
		expect(isCanonical(pretty, input)).toBe(false);
	});
});

// Appendix B, "Number Serialization Samples": IEEE 754 bits and text. Copied from memory and compared with other projects' copies.
const numbers: readonly (readonly [string, string])[] = [
	['0000000000000000', '0'],
	['8000000000000000', '0'],
	['0000000000000001', '5e-324'],
	['8000000000000001', '-5e-324'],
	['7fefffffffffffff', '1.7976931348623157e+308'],
	['ffefffffffffffff', '-1.7976931348623157e+308'],
	['4340000000000000', '9007199254740992'],
	['c340000000000000', '-9007199254740992'],
	['4430000000000000', '295147905179352830000'],
	['44b52d02c7e14af5', '9.999999999999997e+22'],
	['44b52d02c7e14af6', '1e+23'],
	['44b52d02c7e14af7', '1.0000000000000001e+23'],
	['444b1ae4d6e2ef4e', '999999999999999700000'],
	['444b1ae4d6e2ef4f', '999999999999999900000'],
	['444b1ae4d6e2ef50', '1e+21'],
	['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
	['3eb0c6f7a0b5ed8d', '0.000001'],
	['41b3de4355555553', '333333333.3333332'],
	['41b3de4355555554', '333333333.33333325'],
	['41b3de4355555555', '333333333.3333333'],
	['41b3de4355555556', '333333333.3333334'],
	['41b3de4355555557', '333333333.33333343'],
	['becbf647612f3696', '-0.0000033333333333333333'],
	['43143ff3c1cb0959', '1424953923781206.2']
];

const double = (bits: string): number => {
	const view = new DataView(new ArrayBuffer(8));
	view.setBigUint64(0, BigInt(`0x${bits}`));
	return view.getFloat64(0);
};

describe('P8785.2 Appendix B', () => {
	it.each(numbers)('%s is %s', (bits, text) => {
		const value = double(bits);
		expect(canonicalize(value)).toBe(text);
		if (Number.isInteger(value) && !Number.isSafeInteger(value)) expect(() => canonical(value)).toThrow('integer beyond 2^53');
		else expect(canonical(value)).toBe(text);
	});
	it.each([['7fffffffffffffff'], ['7ff0000000000000'], ['fff0000000000000']])('%s is refused', (bits) => expect(() => canonical(double(bits))).toThrow('expected a finite number'));
});

// Section 3.2.2, the sample with all kinds of values, and section 3.2.4, its bytes; the number 1e30 left out as above.
it('P8785.3 the sample of section 3.2.2 without its integer beyond 2^53', () => {
	const sample: unknown = JSON.parse(
		'{"numbers":[333333333.33333329,4.50,2e-3,0.000000000000000000000000001],"string":"\\u20ac$\\u000F\\u000aA\'\\u0042\\u0022\\u005c\\\\\\"\\/","literals":[null,true,false]}'
	);
	expect(canonical(sample)).toBe('{"literals":[null,true,false],"numbers":[333333333.3333333,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}');
});

// Section 3.2.3: names sort by UTF-16 code units, not by code points or locale.
it('P8785.4 the order of section 3.2.3', () => {
	const names = ['\u20ac', '\r', '\ufb33', '1', '\ud83d\ude00', '\u0080', '\u00f6'];
	const text = canonical(Object.fromEntries(names.map((name) => [name, 0])));
	expect(Object.keys(JSON.parse(text) as object).sort()).toEqual([...names].sort());
	expect(text).toBe('{"\\r":0,"1":0,"\u0080":0,"\u00f6":0,"\u20ac":0,"\ud83d\ude00":0,"\ufb33":0}');
});

describe('P8785.5 what I-JSON (RFC 7493 section 2.1, 2.2) forbids is refused, and told where', () => {
	it.each([
		[{ a: ['\ud800'] }, 'lone surrogate at $.a[0]'],
		[{ '\udc00': 1 }, 'lone surrogate at $.'],
		[{ a: { b: 2 ** 53 } }, 'integer beyond 2^53 at $.a.b'],
		[undefined, 'nothing to write']
	])('%j', (value, sentence) => expect(() => canonical(value)).toThrow(sentence));
	it('text that repeats a name, escapes needlessly, or has blanks or unsorted names is not canonical', () => {
		for (const text of ['{"a":1,"a":1}', '{"a":"\\u0041"}', '{"a": 1}', '{"b":1,"a":2}', '{"a":1.0}', '{"a":1e2}', '{"a":-0}', '[{"2":0,"10":0}]', '{"a":"\\ud800"}'])
			expect(isCanonical(text, JSON.parse(text))).toBe(false);
		for (const text of ['{"a":1,"b":2}', '[{"10":0,"2":0}]', '{"a":"Aé😀"}', '[]', '"x"', 'null']) expect(isCanonical(text, JSON.parse(text))).toBe(true);
	});
});
