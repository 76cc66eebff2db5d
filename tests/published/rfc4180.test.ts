import { describe, expect, it } from 'vitest';
import { cell, csvText } from '$lib/record/csv-text';

/** RFC 4180 (Y. Shafranovich, October 2005), section 2, rules 1 to 7; the examples are the RFC's own, from memory. */
describe('RFC 4180 section 2', () => {
	it('1, 2 each record ends in CRLF, the last one too', () => {
		expect(csvText(['aaa', 'bbb', 'ccc'], [['zzz', 'yyy', 'xxx']])).toBe('aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n');
	});
	it('3 a header names the fields', () => {
		expect(csvText(['field_name', 'other'], []).split('\r\n')[0]).toBe('field_name,other');
	});
	it('4 every record has as many fields as the header; no comma behind the last', () => {
		expect(() => csvText(['a', 'b'], [['1']])).toThrow('a record has 1 fields; the header has 2');
		expect(csvText(['a', 'b'], [['1', null]])).toBe('a,b\r\n1,\r\n');
	});
	it('4 blanks belong to the field', () => expect(cell(' a ')).toBe(' a '));
	it('6 a field with a comma or a quote is quoted', () => {
		expect(cell('b,bb')).toBe('"b,bb"');
	});
	it('7 a quote inside is doubled', () => expect(cell('b"bb')).toBe('"b""bb"'));
	it('no byte order mark and no control character stands in it (the project’s own rule: line breaks become blanks)', () => {
		const text = csvText(['a'], [['b\r\nbb'], ['\ufeffx\u0000\t']]);
		expect(text).toBe('a\r\nb bb\r\n\ufeffx \r\n');
		expect(text.charCodeAt(0)).not.toBe(0xfeff);
	});
});

/** OWASP, "CSV Injection" (community page, from memory): = + - @, tab and carriage return begin formulas; full-width forms too. */
describe('formula cells', () => {
	it.each(['=1+1', '+1', '-1+1', '@SUM(A1)', '\t=1', '\r=1', ' =1', '＝1', '-', '=', '-1,5', '+49 30'])('%j is guarded', (text) => {
		const written = cell(text);
		expect(written.startsWith('"') ? written[1] : written[0]).toBe("'");
	});
	it.each(['-1', '-1.5', '-1e-7', '0', '12', 'a=b', '1-2', ''])('%j is not', (text) => expect(cell(text)).toBe(text));
	it('a guarded cell is quoted all the same, and headers are guarded too', () => {
		expect(cell('=1,"2"')).toBe('"\'=1,""2"""');
		expect(csvText(['=a'], [])).toBe("'=a\r\n");
	});
});
