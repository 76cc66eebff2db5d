import { english } from './words/english';
import { type ExportWords, fill } from './words/export-words';
import { icsLine, icsText, icsUtc } from './ics-text';
import type { ReadJournal } from './read-journal';
import { type Report, reportOf } from './report';

interface Entry {
	/** Tells entries of one run apart, for ever: the same run imported again replaces its entries. */
	readonly id: string;
	readonly summary: string;
	readonly from: string;
	readonly to: string;
	readonly category: string;
	/** Planned ones take no time in anyone's calendar. */
	readonly busy: boolean;
}

/**
 * A run as iCalendar (RFC 5545): the booking, the visit, and each stage as planned and as it was. All times in UTC, so that no
 * time zone has to travel along. The same journal gives the same bytes. Throws RangeError where there is no event 0.
 */
export function toIcs(journal: ReadJournal, words: ExportWords = english): string {
	const report = reportOf(journal);
	return [
		icsLine('BEGIN', 'VCALENDAR'), icsLine('VERSION', '2.0'), icsLine('PRODID', '-//Handrail//Record 1//EN'), icsLine('CALSCALE', 'GREGORIAN'),
		...entries(report, words).map((entry) => eventText(entry, report)),
		icsLine('END', 'VCALENDAR')
	].join('');
}

function entries(report: Report, { fields, columns, calendar }: ExportWords): Entry[] {
	const { booking, beganAt, lastAt, title } = report;
	const planned = plannedStages(report);
	return [
		...(booking ? [{ id: 'booking', summary: `${fields.booking}: ${title}`, from: booking.start ?? beganAt, to: booking.end, category: fields.booking, busy: true }] : []),
		{ id: 'run', summary: title, from: beganAt, to: lastAt, category: columns.actual, busy: true },
		...planned.map(({ id, name, from, to }) => ({ id: `planned-${id}`, summary: fill(calendar.planned, { stage: name }), from, to, category: columns.planned, busy: false })),
		...report.stages.flatMap(({ id, title: stage, beganAt: from, endedAt }) =>
			from ? [{ id: `actual-${id}`, summary: stage, from, to: endedAt ?? lastAt, category: columns.actual, busy: true }] : []
		)
	];
}

/** Stages one after another at their planned durations, from the run's begin. */
function plannedStages({ stages, beganAt }: Report): { id: string; name: string; from: string; to: string }[] {
	let atMs = Date.parse(beganAt);
	return stages.map(({ id, title, plannedMs }) => {
		const from = new Date(atMs).toISOString();
		atMs += plannedMs;
		return { id, name: title, from, to: new Date(atMs).toISOString() };
	});
}

function eventText({ id, summary, from, to, category, busy }: Entry, { run, lastAt, people, sample, head }: Report): string {
	const description = [people.join(', '), sample, run, head].filter(Boolean).join('\n');
	// DTEND must be later than DTSTART (section 3.6.1): what took less than a second, or a clock set back, has none
	const end = icsUtc(to) > icsUtc(from) ? [icsLine('DTEND', icsUtc(to))] : [];
	return [
		icsLine('BEGIN', 'VEVENT'), icsLine('UID', `${run}-${icsText(id)}`), icsLine('DTSTAMP', icsUtc(lastAt)), icsLine('DTSTART', icsUtc(from)), ...end,
		icsLine('SUMMARY', icsText(summary)), icsLine('DESCRIPTION', icsText(description)), icsLine('CATEGORIES', icsText(category)), icsLine('TRANSP', busy ? 'OPAQUE' : 'TRANSPARENT'),
		icsLine('END', 'VEVENT')
	].join('');
}
