import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type DuckDBConnection, DuckDBInstance } from '@duckdb/node-api';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { toParquet } from '$lib/record/parquet';
import { everyKind, hostile, journals } from './journals';

/** Read by DuckDB, which is not ours and not the writer's. */
let folder: string;
let file: string;
let db: DuckDBConnection;
const list = journals().map(([, journal]) => journal);

async function bytesOf(...args: Parameters<typeof toParquet>): Promise<Buffer> {
	const chunks: Uint8Array[] = [];
	for await (const chunk of toParquet(...args)) chunks.push(chunk);
	return Buffer.concat(chunks);
}
const ask = async (sql: string) => (await db.runAndReadAll(sql.replace('FILE', `'${file}'`))).getRowObjectsJson();

beforeAll(async () => {
	folder = mkdtempSync(join(tmpdir(), 'parquet-'));
	file = join(folder, 'runs.parquet');
	writeFileSync(file, await bytesOf(list));
	db = await (await DuckDBInstance.create()).connect();
});
afterAll(() => rmSync(folder, { recursive: true }));

describe('X13 many runs as Parquet', () => {
	it('an event a row, of every run, in order', async () => {
		const [{ n } = {}] = await ask('select count(*)::int as n from FILE');
		expect(n).toBe(list.reduce((sum, { events }) => sum + events.length, 0));
		const hashes = await ask('select hash from FILE');
		expect(hashes.map(({ hash }) => hash)).toEqual(list.flatMap(({ events }) => events.map(({ hash }) => hash)));
	});
	it('types are the reader’s own: numbers, booleans, moments in UTC; a text value stands beside', async () => {
		const types = Object.fromEntries((await ask('describe select * from FILE')).map(({ column_name, column_type }) => [column_name, column_type]));
		expect(types).toMatchObject({ seq: 'INTEGER', value: 'DOUBLE', value_text: 'VARCHAR', taken_back: 'BOOLEAN', at_utc: 'TIMESTAMP WITH TIME ZONE', elapsed_ms: 'DOUBLE' });
		const readings = everyKind().events.flatMap((event) => (event.kind === 'reading' ? [[event.seq, event.data.value, event.data.unit]] : []));
		const got = await ask(`select distinct seq, value, unit from FILE where kind = 'reading' and run = '${everyKind().events[0]!.run}' and device != '' order by seq`);
		expect(got.map(({ seq, value, unit }) => [seq, value, unit])).toEqual(expect.arrayContaining(readings));
		const [first] = await ask('select epoch_ms(at_utc)::bigint as ms, "at" from FILE limit 1');
		expect(Number(first!['ms'])).toBe(Date.parse(first!['at'] as string));
	});
	it('hostile words come through whole', async () => {
		const rows = await ask("select text from FILE where kind = 'note'");
		expect(rows.map(({ text }) => text)).toContain(hostile);
	});
	it('the same bytes each time, and none but an empty table from no run', async () => {
		expect((await bytesOf(list)).equals(await bytesOf(list))).toBe(true);
		writeFileSync(file + '-none', await bytesOf([]));
		const rows = (await db.runAndReadAll(`select count(*)::int as n from '${file}-none'`.replace(/'([^']*-none)'/, "read_parquet('$1')"))).getRowObjectsJson();
		expect(rows).toEqual([{ n: 0 }]);
	});
});
