import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { toIcs } from '$lib/record/ics';
import { eventful, hostile, journalOf, journals } from './journals';

/** Read by ical.js, which is not ours. */
const parse = (text: string) => new ICAL.Component(ICAL.parse(text) as unknown[]).getAllSubcomponents('vevent').map((event) => new ICAL.Event(event));

describe.each(journals())('X12 iCalendar of a run: %s', (_, journal) => {
	const text = toIcs(journal);
	it('is read by an independent parser; entries are unique and end after they begin', () => {
		const events = parse(text);
		expect(events.length).toBeGreaterThan(0);
		expect(new Set(events.map(({ uid }) => uid)).size).toBe(events.length);
		for (const event of events) expect(event.endDate.compare(event.startDate)).toBeGreaterThanOrEqual(0);
	});
	it('keeps RFC 5545: CRLF, lines of 75 octets at most, no empty line, times in UTC', () => {
		expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true);
		expect(text.replace(/\r\n/g, '')).not.toMatch(/[\r\n]/);
		for (const line of text.split('\r\n').slice(0, -1)) {
			expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
			expect(line).not.toBe('');
		}
		for (const [, value] of text.matchAll(/^DT\w+:(.*)\r$/gm)) expect(value).toMatch(/^\d{8}T\d{6}Z$/);
		expect(toIcs(journal)).toBe(text);
	});
});

describe('X12 what a calendar tells', () => {
	it('booking, visit, stages as planned and as they were', () => {
		const journal = journalOf(eventful());
		const events = parse(toIcs(journal));
		const by = (summary: string) => events.find((event) => event.summary === summary);
		expect(by('Booking: Invented visit')?.endDate.toJSDate().toISOString()).toBe('2026-03-02T10:00:00.000Z');
		expect(events.filter(({ summary }) => summary.endsWith('(planned)'))).toHaveLength(journal.events[0]!.kind === 'begun' ? journal.events[0]!.data.edition.body.stages.length : 0);
		const began = Date.parse(journal.events[0]!.at);
		expect(events[1]!.startDate.toJSDate().getTime()).toBe(Math.floor(began / 1000) * 1000);
	});
	it('hostile words come through whole', () => {
		const walk = eventful();
		const begun = walk.events[0]!;
		expect(begun.kind === 'begun' && begun.data.sample).toBe('=cmd|"x"');
		expect(parse(toIcs(journalOf(walk)))[0]!.description).toContain('=cmd|"x"');
		expect(hostile).toContain('\n');
	});
});
