import { describe, expect, it } from 'vitest';
import { rfc3339 } from '$lib/record/rfc3339';
import { toCsv } from '$lib/record/csv';
import { readJournal } from '$lib/record/read-journal';
import { lineOf } from '$lib/record/chain';
import { sampleJournal, sampleRun } from '../contract/sample-journal';

/** RFC 3339 (G. Klyne, C. Newman, July 2002), section 5.6, the grammar `date-time`, written as one expression. */
const dateTime = /^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])T([01]\d|2[0-3]):[0-5]\d:([0-5]\d|60)(\.\d+)?(Z|[+-]([01]\d|2[0-3]):[0-5]\d)$/;

describe('RFC 3339', () => {
	// section 5.8, examples (from memory); each names one moment, compared in milliseconds UTC
	it.each([
		['1985-04-12T23:20:50.520+00:00', Date.UTC(1985, 3, 12, 23, 20, 50, 520), 0],
		['1996-12-19T16:39:57.000-08:00', Date.UTC(1996, 11, 20, 0, 39, 57), -480],
		['1937-01-01T12:00:27.870+00:20', Date.UTC(1937, 0, 1, 11, 40, 27, 870), 20]
	])('section 5.8: %s', (text, wallMs, offsetMin) => {
		expect(rfc3339(wallMs, offsetMin)).toBe(text);
		expect(Date.parse(text)).toBe(wallMs);
		expect(text).toMatch(dateTime);
	});
	it('section 5.6: every stamp fits the grammar, over offsets from -12:00 to +14:00 and across a leap day', () => {
		for (let offset = -720; offset <= 840; offset += 15)
			for (const moment of [Date.UTC(2024, 1, 28, 23, 59, 59, 999), Date.UTC(2024, 1, 29), Date.UTC(2025, 11, 31, 23, 59, 59, 1)]) {
				const stamp = rfc3339(moment, offset);
				expect(stamp).toMatch(dateTime);
				expect(Date.parse(stamp)).toBe(moment);
			}
	});
	it('section 4.3: an offset of UTC is written +00:00, since -00:00 says that the local offset is not known', () => {
		expect(rfc3339(0, -0)).toBe('1970-01-01T00:00:00.000+00:00');
	});
	it('the stamps of an exported table fit the grammar', () => {
		const text = sampleJournal(sampleRun(1), 6).map((event) => lineOf(event) + '\n').join('');
		const [header, ...records] = toCsv(readJournal(text)).trim().split('\r\n');
		const at = header!.split(',').indexOf('at');
		expect(records.length).toBe(6);
		for (const record of records) expect(record.split(',')[at]).toMatch(dateTime);
	});
});
