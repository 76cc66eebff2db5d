/** Reads recorded runs from CSV (RFC 4180): columns by name, further columns ignored, every bad row told with its line number. */
import type { RecordedRow } from './recorded-run';

/** A row that cannot be used: where it starts in the file, and what was expected. */
export interface BadRow {
	readonly line: number;
	readonly reason: string;
}

export interface RecordedFile {
	readonly rows: readonly RecordedRow[];
	readonly bad: readonly BadRow[];
}

const COLUMNS = ['run_id', 'operator_id', 'procedure', 'step_name', 'start_s', 'end_s'] as const;
type Column = (typeof COLUMNS)[number];

interface Record {
	readonly line: number;
	readonly cells: readonly string[];
	readonly fault?: string;
}

export function readRecordedCsv(text: string): RecordedFile {
	const [header, ...records] = csvRecords(text.replace(/^\uFEFF/, ''));
	const missing = COLUMNS.filter((column) => !header?.cells.includes(column));
	if (!header || missing.length > 0)
		return {
			rows: [],
			bad: [{ line: 1, reason: `expected the columns ${COLUMNS.join(', ')}; missing: ${missing.join(', ')}` }]
		};
	const rows: RecordedRow[] = [];
	const bad: BadRow[] = [];
	const ownerOfRun = new Map<string, string>();
	for (const record of records) {
		const row = rowOf(record, header.cells);
		if ('reason' in row) {
			bad.push(row);
			continue;
		}
		const owner = `operator "${row.operator}" with procedure "${row.procedure}"`;
		const known = ownerOfRun.get(row.runId) ?? owner;
		ownerOfRun.set(row.runId, known);
		if (known === owner) rows.push(row);
		else
			bad.push({ line: row.line, reason: `run "${row.runId}": expected ${known} as in its rows above, got ${owner}` });
	}
	return { rows, bad };
}

function rowOf(record: Record, header: readonly string[]): RecordedRow | BadRow {
	const { line, cells, fault } = record;
	if (fault) return { line, reason: fault };
	if (cells.length !== header.length) return { line, reason: `expected ${header.length} cells, got ${cells.length}` };
	const cell = (column: Column): string => (cells[header.indexOf(column)] ?? '').trim();
	for (const column of COLUMNS)
		if (cell(column) === '') return { line, reason: `${column}: expected a value, got nothing` };
	for (const column of ['start_s', 'end_s'] as const)
		if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(cell(column)))
			return { line, reason: `${column}: expected seconds as a number, got "${cell(column)}"` };
	const startS = Number(cell('start_s'));
	const endS = Number(cell('end_s'));
	if (startS < 0) return { line, reason: `start_s: expected at least 0, got ${startS}` };
	if (!(endS >= startS)) return { line, reason: `end_s: expected at least start_s ${startS}, got ${endS}` };
	if (!Number.isFinite(endS)) return { line, reason: `end_s: expected a finite number, got ${cell('end_s')}` };
	return {
		line,
		runId: cell('run_id'),
		operator: cell('operator_id'),
		procedure: cell('procedure'),
		stepName: cell('step_name'),
		startS,
		endS
	};
}

/** Splits into records; blank lines are no records. `line` is where a record begins, since quoted cells may hold line ends. */
function csvRecords(text: string): Record[] {
	const records: Record[] = [];
	let cells: string[] = [];
	let cell = '';
	let line = 1;
	let began = 1;
	let quoted = false;
	let wasQuoted = false;
	let fault: string | undefined;
	const endCell = (): void => {
		cells.push(cell);
		cell = '';
		wasQuoted = false;
	};
	const endRecord = (): void => {
		const blank = cells.length === 0 && cell === '' && !wasQuoted;
		endCell();
		if (!blank) records.push({ line: began, cells, fault });
		cells = [];
		fault = undefined;
		began = line;
	};
	for (let at = 0; at < text.length; at++) {
		const sign = text[at] as string;
		if (sign === '\n') line += 1;
		if (quoted) {
			if (sign !== '"') cell += sign;
			else if (text[at + 1] === '"') cell += text[++at] as string;
			else quoted = false;
		} else if (sign === ',') endCell();
		else if (sign === '\n') endRecord();
		else if (sign === '\r' && text[at + 1] === '\n') continue;
		else if (sign === '"' && cell === '' && !wasQuoted) quoted = wasQuoted = true;
		else {
			if (sign === '"' || wasQuoted) fault = 'expected quotes around the whole cell, doubled inside it';
			cell += sign;
		}
	}
	if (quoted) fault = 'expected a closing quote before the end of the file';
	endRecord();
	return records;
}
