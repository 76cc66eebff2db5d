import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { describe, expect, it } from 'vitest';
import { databaseCopy } from '$lib/adapters/indexeddb/database-copy';
import { localLocks } from '$lib/adapters/locks/local-locks';
import { fileCopy } from '$lib/adapters/opfs/file-copy';
import { localMarker } from '$lib/adapters/two-copies/marker';
import { TwoCopiesStore } from '$lib/adapters/two-copies/two-copies-store';
import { lineOf, sha256OfBytes } from '$lib/record/chain';
import type { JournalEvent } from '$lib/run/events';
import { refuses } from './assert';
import { fakeFiles } from './fake-files';
import { fakeLine } from './fake-line';
import { sampleJournal, sampleRun, sealNext } from './sample-journal';

const run = sampleRun(1);
const path = `journals/${run}.journal.jsonl`;
const events = sampleJournal(run, 8);
const bytesOf = (some: readonly JournalEvent[]) => new TextEncoder().encode(some.map((event) => lineOf(event) + '\n').join(''));

/** A device whose storage can be damaged between two starts. */
class Device {
	factory = new IDBFactory();
	readonly files = fakeFiles();
	readonly #locks = localLocks();
	readonly #marker = localMarker();
	/** A fresh start: nothing is held any more. */
	start(): TwoCopiesStore {
		this.files.crash();
		return new TwoCopiesStore({ database: databaseCopy(this.factory), file: fileCopy(fakeLine(this.files.root)), locks: this.#locks, marker: this.#marker });
	}
	async write(some: readonly JournalEvent[] = events): Promise<this> {
		const store = this.start();
		const lock = (await store.lock(run))!;
		await store.append(run, some, lock);
		lock.release();
		await store.open(run);
		return this;
	}
	/** The database as it would be after fewer events. */
	async databaseBehind(count: number): Promise<this> {
		const kept = this.files.content.get(path)!;
		this.factory = new IDBFactory();
		this.files.content.delete(path);
		if (count) await this.write(events.slice(0, count));
		this.files.content.set(path, kept);
		return this;
	}
	file = () => this.files.content.get(path)!;
	setFile = (bytes: Uint8Array) => this.files.content.set(path, bytes);
	async changeLine(seq: number, change: (line: string) => string): Promise<void> {
		const database = await new Promise<IDBDatabase>((resolve) => {
			const request = this.factory.open('handrail-journals');
			request.onsuccess = () => resolve(request.result);
		});
		await new Promise<void>((resolve) => {
			const transaction = database.transaction('events', 'readwrite');
			const store = transaction.objectStore('events');
			const got = store.get([run, seq]);
			got.onsuccess = () => store.put(change(got.result as string), [run, seq]);
			transaction.oncomplete = () => resolve();
		});
		database.close();
	}
}

async function opensWhole(device: Device, mended: unknown) {
	const store = device.start();
	const opened = await store.open(run);
	expect(opened.events).toEqual(events);
	expect(opened.fault).toBeNull();
	expect(opened.mended).toEqual(mended);
	expect(device.file()).toEqual(bytesOf(events));
	const next = sampleJournal(run, 9)[8]!;
	const lock = (await store.lock(run))!;
	await store.append(run, [next], lock);
	lock.release();
	const again = await device.start().open(run);
	expect([again.events.length, again.mended, again.fault]).toEqual([9, [], null]);
}

describe('J17 two copies: the poorer one is mended, told, and written on', () => {
	it('the database is gone', async () => opensWhole(await (await new Device().write()).databaseBehind(0), [{ copy: 'database', what: 'lost', fromSeq: 0, events: 8 }]));
	it('the database is behind', async () => opensWhole(await (await new Device().write()).databaseBehind(5), [{ copy: 'database', what: 'behind', fromSeq: 5, events: 3 }]));
	it('the file is gone', async () => {
		const device = await new Device().write();
		device.files.content.delete(path);
		await opensWhole(device, [{ copy: 'file', what: 'lost', fromSeq: 0, events: 8 }]);
	});
	it('the file is behind', async () => {
		const device = await new Device().write();
		device.setFile(bytesOf(events.slice(0, 6)));
		await opensWhole(device, [{ copy: 'file', what: 'behind', fromSeq: 6, events: 2 }]);
	});
	it('the file ends in half a record', async () => {
		const device = await new Device().write();
		device.setFile(device.file().slice(0, -40));
		await opensWhole(device, [{ copy: 'file', what: 'damaged', fromSeq: 7, events: 1 }]);
	});
	it('the file ends in half a record that was never acknowledged', async () => {
		const device = await new Device().write();
		device.setFile(bytesOf(sampleJournal(run, 9)).slice(0, -40));
		await opensWhole(device, [{ copy: 'file', what: 'damaged', fromSeq: 8, events: 0 }]);
	});
	it('the file has one flipped bit, at every position of its third line; what stood there is set aside (J18)', async () => {
		const device = await new Device().write();
		const [from, to] = [bytesOf(events.slice(0, 2)).length, bytesOf(events.slice(0, 3)).length];
		for (let at = from; at < to; at += 7) {
			const damaged = device.file().slice();
			damaged[at]! ^= 1 << at % 8;
			device.setFile(damaged);
			const opened = await device.start().open(run);
			expect(opened.events).toEqual(events);
			expect(opened.mended[opened.mended.length - 1]).toEqual({ copy: 'file', what: 'damaged', fromSeq: 2, events: 6 });
			expect(device.file()).toEqual(bytesOf(events));
			expect([...device.files.content.entries()].some(([name, bytes]) => name.startsWith('set-aside/') && Buffer.compare(bytes, damaged) === 0)).toBe(true);
		}
	});
	it('the database has an altered line', async () => {
		const device = await new Device().write();
		await device.changeLine(4, (line) => line.replace('ok', 'no'));
		await opensWhole(device, [{ copy: 'database', what: 'damaged', fromSeq: 4, events: 4 }]);
	});
	it('both are damaged, each elsewhere', async () => {
		const device = await new Device().write();
		await device.changeLine(4, (line) => line.replace('ok', 'no'));
		const damaged = device.file().slice();
		damaged[bytesOf(events.slice(0, 2)).length + 30]! ^= 4;
		device.setFile(damaged);
		await opensWhole(device, [
			{ copy: 'database', what: 'damaged', fromSeq: 4, events: 4 },
			{ copy: 'file', what: 'damaged', fromSeq: 2, events: 6 }
		]);
	});
	it('the database is gone and the last line of the file is damaged: nothing is cut (J18)', async () => {
		const device = await (await new Device().write()).databaseBehind(0);
		const damaged = device.file().slice();
		damaged[damaged.length - 20]! ^= 1;
		device.setFile(damaged);
		const opened = await device.start().open(run);
		expect([opened.events.length, opened.fault?.seq]).toEqual([7, 7]);
		expect(device.file()).toEqual(damaged);
	});
	it('listing mends too, and the mend is still told at opening', async () => {
		const device = await (await new Device().write()).databaseBehind(0);
		const store = device.start();
		expect((await store.list()).map(({ count }) => count)).toEqual([8]);
		expect((await device.start().open(run)).mended).toEqual([{ copy: 'database', what: 'lost', fromSeq: 0, events: 8 }]);
	});
	it('a tab without the lock mends nothing (J12)', async () => {
		const device = await new Device().write();
		const writer = device.start();
		const lock = (await writer.lock(run))!;
		const short = bytesOf(events.slice(0, 6));
		device.setFile(short);
		const other = device.start();
		expect((await other.open(run)).events).toEqual(events);
		expect(device.file()).toEqual(short);
		lock.release();
	});
});

describe('J18 where no copy is whole nothing is written', () => {
	async function broken(): Promise<Device> {
		const device = await new Device().write();
		await device.changeLine(4, (line) => line.replace('ok', 'no'));
		const damaged = device.file().slice();
		damaged[bytesOf(events.slice(0, 4)).length + 30]! ^= 4;
		device.setFile(damaged);
		return device;
	}
	it('shows the sound prefix with the fault, refuses to write, and gives the bytes as they are', async () => {
		const device = await broken();
		const before = device.file().slice();
		const store = device.start();
		const opened = await store.open(run);
		expect(opened.events).toEqual(events.slice(0, 4));
		expect(opened.fault?.seq).toBe(4);
		expect(opened.fault?.reason).toMatch(/altered|JSON|canonical|missing/);
		const lock = (await store.lock(run))!;
		await refuses(() => store.append(run, [events[4]!], lock), 'damaged');
		lock.release();
		expect(await store.bytes(run)).toEqual(before);
		expect(device.file()).toEqual(before);
	});
	it('keeps two sound copies that differ as they are', async () => {
		const device = await new Device().write();
		const forked = [...events.slice(0, 6)];
		for (const text of ['fork 6', 'fork 7']) forked.push(sealNext(run, forked, { kind: 'note', data: { text } }));
		device.setFile(bytesOf(forked));
		const store = device.start();
		const opened = await store.open(run);
		expect(opened.events).toEqual(events.slice(0, 6));
		expect(opened.fault).toMatchObject({ seq: 6 });
		expect(device.file()).toEqual(bytesOf(forked));
	});
	it('does not cut what stands behind a gap', async () => {
		const device = await (await new Device().write()).databaseBehind(3);
		const lines = new TextDecoder().decode(device.file()).split('\n');
		lines.splice(3, 1);
		const gap = new TextEncoder().encode(lines.join('\n'));
		device.setFile(gap);
		const opened = await device.start().open(run);
		expect([opened.events.length, opened.fault?.seq]).toEqual([3, 3]);
		expect(device.file()).toEqual(gap);
	});
});

describe('J19 a failed append', () => {
	it('says that the device is full, writes nothing more until opened anew, and then goes on', async () => {
		const device = await new Device().write(events.slice(0, 4));
		const store = device.start();
		const lock = (await store.lock(run))!;
		device.files.freeBytes = 50;
		const fault = await refuses(() => store.append(run, [events[4]!], lock), 'full');
		expect(fault.message).toContain("storage is full");
		device.files.freeBytes = Infinity;
		await refuses(() => store.append(run, [events[4]!], lock), 'reopen first');
		const opened = await store.open(run);
		// the database had it already: what is durable somewhere and sound is kept
		expect(opened.events).toEqual(events.slice(0, 5));
		expect(opened.mended).toEqual([{ copy: 'file', what: 'behind', fromSeq: 4, events: 1 }]);
		await store.append(run, events.slice(5), lock);
		lock.release();
		expect((await device.start().open(run)).events).toEqual(events);
	});
});

describe('a run that vanished from both copies', () => {
	it('is known by the marker; a removed one is not missed', async () => {
		const device = await new Device().write();
		device.files.content.delete(path);
		device.factory = new IDBFactory();
		expect(await device.start().vanished()).toEqual([run]);
		const removed = await new Device().write();
		await removed.start().remove(run);
		expect(await removed.start().vanished()).toEqual([]);
	});
});

describe('J14 an altered attachment', () => {
	it('is refused when written under a wrong name and when read', async () => {
		const device = await new Device().write();
		const store = device.start();
		const bytes = new TextEncoder().encode('a photograph');
		await refuses(() => store.putAttachment(run, 'a'.repeat(64), bytes, 'image/jpeg'), 'damaged');
		const name = sha256OfBytes(bytes);
		await store.putAttachment(run, name, bytes, 'image/jpeg');
		device.files.content.set(`attachments/${run}/${name}`, new TextEncoder().encode('b photograph'));
		await refuses(() => store.attachment(run, name), 'damaged');
	});
});
