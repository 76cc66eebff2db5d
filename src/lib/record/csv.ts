import { csvText } from './csv-text';
import { EVENT_COLUMNS, eventRecord } from './event-table';
import type { ReadJournal } from './read-journal';
import { reportOf } from './report';

/** A run as CSV (RFC 4180; stamps RFC 3339). The same journal gives the same bytes. Throws RangeError where there is no event 0. */
export function toCsv(journal: ReadJournal): string {
	const report = reportOf(journal);
	const records = report.events.map((line) => eventRecord(line, report));
	return csvText(EVENT_COLUMNS, records.map((record) => EVENT_COLUMNS.map((column) => record[column])));
}
