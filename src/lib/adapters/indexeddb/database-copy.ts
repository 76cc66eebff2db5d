import type { Beat, Mend } from '$lib/ports/journal-store';
import type { JournalEvent } from '$lib/run/events';
import { type RunRow, rowAfter } from '../run-row';
import { StoreFault } from '../store-fault';
import type { DatabaseCopy, Repair } from '../two-copies/copy';
import { bytesOf } from '../two-copies/unite';
import { Connection, result } from './connection';

/** Keys [run, seq] from a sequence number on. */
const eventsOf = (run: string, fromSeq = 0) => IDBKeyRange.bound([run, fromSeq], [run, Infinity]);

/** The journals in IndexedDB: one key an event, its value the line of the journal file; strict durability. */
export function databaseCopy(factory: IDBFactory): DatabaseCopy {
	const connection = new Connection(factory);
	const lines = (run: string) => connection.read('events', (at) => at.getAll(eventsOf(run)) as IDBRequest<string[]>);
	const text = async (run: string) => (await lines(run)).map((line) => line + '\n').join('');
	const row = (run: string) => connection.read('runs', (at) => at.get(run) as IDBRequest<RunRow | undefined>);

	return {
		name: 'database',
		rows: () => connection.read('runs', (at) => at.getAll() as IDBRequest<RunRow[]>),
		row,
		async runs() {
			return new Map((await this.rows()).map(({ run, bytes }) => [run, bytes]));
		},
		read: text,
		bytes: async (run) => new TextEncoder().encode(await text(run)),

		append: (run, events, written, atBytes) =>
			connection.write(['events', 'runs'], async (at) => {
				const before = await result(at('runs').get(run) as IDBRequest<RunRow | undefined>);
				if ((before?.bytes ?? 0) !== atBytes) throw new StoreFault('reopen first', `the database has ${before?.bytes ?? 0} bytes of run ${run}; expected ${atBytes}`);
				// `add`, not `put`: what is written stays
				written.forEach((line, i) => at('events').add(line, [run, events[i]!.seq]));
				at('runs').put({ ...rowAfter(before, events, atBytes + bytesOf(written)), mends: [] }, run);
			}),

		repair: (run: string, { keepLines, lines, setAside }: Repair, events: readonly JournalEvent[], mends: readonly Mend[]) =>
			connection.write(['events', 'runs', 'setAside'], async (at) => {
				const range = eventsOf(run, keepLines);
				const replaced = await result(at('events').getAll(range) as IDBRequest<string[]>);
				const before = await result(at('runs').get(run) as IDBRequest<RunRow | undefined>);
				if (setAside) at('setAside').add({ run, fromSeq: keepLines, lines: replaced });
				at('events').delete(range);
				lines.forEach((line, i) => at('events').add(line, [run, keepLines + i]));
				const all = await result(at('events').getAll(eventsOf(run)) as IDBRequest<string[]>);
				at('runs').put({ ...rowAfter(undefined, events, bytesOf(all)), mends: [...(before?.mends ?? []), ...mends] }, run);
			}),

		noteMends: (run, mends) =>
			connection.write(['runs'], async (at) => {
				const before = await result(at('runs').get(run) as IDBRequest<RunRow | undefined>);
				if (before) at('runs').put({ ...before, mends: [...before.mends, ...mends] }, run);
			}),

		async letGo() {},
		remove: (run) =>
			connection.write(['events', 'runs', 'attachments', 'beats'], (at) => {
				at('events').delete(eventsOf(run));
				at('runs').delete(run);
				at('attachments').delete(IDBKeyRange.bound([run, ''], [run, '\uffff']));
				at('beats').delete(run);
			}),
		putAttachment: (run, sha256, bytes, type) => connection.write(['attachments'], (at) => void at('attachments').put({ bytes, type }, [run, sha256])),
		attachment: async (run, sha256) =>
			(await connection.read('attachments', (at) => at.get([run, sha256]) as IDBRequest<{ bytes: Uint8Array; type: string } | undefined>)) ?? null,
		beat: (run, beat) => connection.write(['beats'], (at) => void at('beats').put(beat, run), 'relaxed'),
		lastBeat: async (run) => (await connection.read('beats', (at) => at.get(run) as IDBRequest<Beat | undefined>)) ?? null
	};
}

/**
 * Makes the browser's database begin a new log file, before the first write after a start. A kill can leave half a record
 * at the log's end; what is appended behind it makes the start after that throw everything away. Creating and deleting a
 * database that exists flushes the log; deleting one that does not exist does nothing. About 30 ms.
 */
export async function rotateLog(factory: IDBFactory): Promise<void> {
	const name = 'handrail-rotate';
	const opened = factory.open(name, 1);
	opened.onupgradeneeded = () => opened.result.createObjectStore('nothing');
	(await result(opened)).close();
	await result(factory.deleteDatabase(name));
}
