import { csvText } from './csv-text';
import { EVENT_COLUMNS, eventRecord } from './event-table';
import type { ReadJournal } from './read-journal';
import { type Report, reportOf } from './report';

/** A run as CSV (RFC 4180; stamps RFC 3339). The same journal gives the same bytes. Throws RangeError where there is no event 0. */
export const toCsv = (journal: ReadJournal): string => csvOf(reportOf(journal));

/** The same of a report that is at hand. */
export function csvOf(report: Report): string {
	const records = report.events.map((line) => eventRecord(line, report));
	return csvText(EVENT_COLUMNS, records.map((record) => EVENT_COLUMNS.map((column) => record[column])));
}
