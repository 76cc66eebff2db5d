import { type BasicType, ByteWriter, type ColumnSource, ParquetWriter, schemaFromColumnData } from 'hyparquet-writer'; // small, no dependencies but its reader, writes row groups one by one
import { EVENT_COLUMNS, type EventColumn, eventRecord } from './event-table';
import type { ReadJournal } from './read-journal';
import { reportOf } from './report';

type Cell = string | number | boolean | Date | null;
type Columns = Readonly<Record<string, { readonly type: BasicType; readonly nullable: boolean }>>;

const must = (type: BasicType) => ({ type, nullable: false });
const may = (type: BasicType) => ({ type, nullable: true });

/** Types of the shared table; `value` is a number here, and `value_text` holds what is none. */
const eventTypes: Readonly<Record<EventColumn, Columns[string]>> = {
	run: must('STRING'), seq: must('INT32'), at: must('STRING'), mono_ms: must('DOUBLE'), boot: must('STRING'), kind: must('STRING'),
	stage: may('STRING'), step: may('STRING'), step_title: may('STRING'), visit: may('INT32'), name: may('STRING'), value: may('DOUBLE'), unit: may('STRING'), uncertainty: may('DOUBLE'),
	text: may('STRING'), taken_back: must('BOOLEAN'), elapsed_ms: may('DOUBLE'), paused_ms: may('DOUBLE'), held_ms: may('DOUBLE'), not_measured_ms: may('DOUBLE'), planned_ms: may('DOUBLE'),
	by: must('STRING'), under: may('STRING'), device: must('STRING'), via: must('STRING'), heard: may('STRING'), confidence: may('DOUBLE'), hash: must('STRING')
};
/** What is told beside each event, so that many runs can be compared without joining. `at_utc` is a moment, `at` keeps its offset. */
const columns: Columns = { ...Object.fromEntries(EVENT_COLUMNS.map((name) => [name, eventTypes[name]])), value_text: may('STRING'), at_utc: must('TIMESTAMP'), procedure: must('STRING'), edition_sha256: must('STRING'), invented: must('BOOLEAN') };
const names = Object.keys(columns);
const VALUE = EVENT_COLUMNS.indexOf('value');

/** Bounds by which a reader passes over row groups: of numbers, moments and the run. Of other texts they cost more than they spare. */
const bounded = (name: string): boolean => columns[name]!.type !== 'STRING' || name === 'run';
/** A hash is as good as noise: neither a dictionary nor packing makes it smaller. */
const noise = { encoding: 'PLAIN', codec: 'UNCOMPRESSED' } as const;

const sources = (cells: readonly Cell[][]): ColumnSource[] => names.map((name, i) => ({ name, data: cells[i]!, ...columns[name]!, statistics: bounded(name), ...(name === 'hash' ? noise : {}) }));

/** Moments are UTC: readers take a column that does not say so for local time. */
const schema = schemaFromColumnData({ columnData: sources(names.map(() => [])) }).map((element) =>
	element.converted_type === 'TIMESTAMP_MILLIS' ? { ...element, logical_type: { type: 'TIMESTAMP' as const, isAdjustedToUTC: true, unit: 'MILLIS' as const } } : element
);

const ROWS_A_GROUP = 20_000;

/**
 * Runs as one Apache Parquet file, an event a row, in row groups as they fill, so that memory does not grow with their number.
 * The same journals give the same bytes. Throws RangeError where a journal has no event 0.
 */
export async function* toParquet(journals: Iterable<ReadJournal> | AsyncIterable<ReadJournal>): AsyncGenerator<Uint8Array> {
	const bytes = new ByteWriter();
	const writer = new ParquetWriter({ writer: bytes, schema, createdBy: 'handrail' });
	let cells: Cell[][] = names.map(() => []);
	const group = async () => {
		await writer.write({ columnData: sources(cells), rowGroupSize: ROWS_A_GROUP });
		cells = names.map(() => []);
		return taken(bytes);
	};
	for await (const journal of journals) {
		append(journal, cells);
		if (cells[0]!.length >= ROWS_A_GROUP) yield await group();
	}
	if (cells[0]!.length) yield await group();
	await writer.finish();
	yield taken(bytes);
}

/** What was written since the last time; the writer goes on counting its offset. */
function taken(writer: ByteWriter): Uint8Array {
	const chunk = new Uint8Array(writer.buffer.slice(0, writer.index));
	writer.index = 0;
	return chunk;
}

/** Cells go straight into their columns: an object a row would cost more than everything else. */
function append(journal: ReadJournal, cells: Cell[][]): void {
	const report = reportOf(journal);
	const { edition, invented } = report.begun;
	for (const line of report.events) {
		const record = eventRecord(line, report);
		const { value } = record;
		for (let i = 0; i < EVENT_COLUMNS.length; i++) cells[i]!.push(record[EVENT_COLUMNS[i]!]);
		cells[VALUE]![cells[VALUE]!.length - 1] = typeof value === 'number' ? value : null;
		const more: Cell[] = [typeof value === 'string' ? value : null, new Date(line.event.at), edition.id, edition.hash, invented === true];
		more.forEach((cell, i) => cells[EVENT_COLUMNS.length + i]!.push(cell));
	}
}
