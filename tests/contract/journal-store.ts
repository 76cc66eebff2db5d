import type { JournalStore } from '$lib/ports/journal-store';
import { lineOf, sha256OfBytes } from '$lib/record/chain';
import type { JournalEvent } from '$lib/run/events';
import { holds, refuses, same } from './assert';
import { sampleJournal, sampleRun, sealNext } from './sample-journal';

/**
 * What every journal store keeps to (tests/behaviour/journal.md). The cases know no test runner, so that the same ones run
 * in Node and in a real browser. `make` gives a store; called again it gives a second one over the same storage, as after a
 * restart, where the store lasts.
 */
export interface Case {
	readonly title: string;
	/** Needs storage that outlives the store object. */
	readonly lasting?: true;
	check(make: () => Promise<JournalStore>, run: string): Promise<void>;
}

async function written(store: JournalStore, events: readonly JournalEvent[]) {
	const lock = await store.lock(events[0]!.run);
	holds(lock, 'the lock is free');
	for (const event of events) await store.append(event.run, [event], lock);
	return lock;
}

export const journalStoreCases: readonly Case[] = [
	{
		title: 'J1 gives back what was appended, in order and unchanged',
		async check(make, run) {
			const [store, events] = [await make(), sampleJournal(run, 9)];
			(await written(store, events)).release();
			same((await store.open(run)).events, events);
			same((await store.open(run)).fault, null);
		}
	},
	{
		title: 'J2 gives the bytes of the journal file: one canonical line an event, a line feed at each end',
		async check(make, run) {
			const [store, events] = [await make(), sampleJournal(run, 5)];
			(await written(store, events)).release();
			same(new TextDecoder().decode(await store.bytes(run)), events.map((event) => lineOf(event) + '\n').join(''));
		}
	},
	{
		title: 'J11 appends several events at once, and none when given none',
		async check(make, run) {
			const [store, events] = [await make(), sampleJournal(run, 6)];
			const lock = await store.lock(run);
			holds(lock, 'the lock is free');
			await store.append(run, events.slice(0, 4), lock);
			await store.append(run, [], lock);
			await store.append(run, events.slice(4), lock);
			lock.release();
			same((await store.open(run)).events, events);
		}
	},
	{
		title: 'J11 keeps appends in the order asked, also when they are not waited for',
		async check(make, run) {
			const [store, events] = [await make(), sampleJournal(run, 20)];
			const lock = await store.lock(run);
			holds(lock, 'the lock is free');
			await Promise.all(events.map((event) => store.append(run, [event], lock)));
			lock.release();
			same((await store.open(run)).events, events);
		}
	},
	{
		title: 'J4 refuses an event that does not follow: a gap, a repeat, another run, a wrong hash; and keeps what stood',
		async check(make, run) {
			const [store, events] = [await make(), sampleJournal(run, 5)];
			const lock = await written(store, events.slice(0, 3));
			const stranger = sampleJournal(sampleRun(999), 4)[3]!;
			for (const wrong of [events[4]!, events[2]!, stranger, { ...events[3]!, prev: 'f'.repeat(64) }])
				await refuses(() => store.append(run, [wrong], lock), 'not next');
			await store.append(run, [events[3]!], lock);
			lock.release();
			same((await store.open(run)).events, events.slice(0, 4));
		}
	},
	{
		title: 'J1 refuses a run that does not begin with `begun`',
		async check(make, run) {
			const store = await make();
			const lock = await store.lock(run);
			holds(lock, 'the lock is free');
			await refuses(() => store.append(run, [sampleJournal(run, 2)[1]!], lock), 'not next');
			lock.release();
			await refuses(() => store.open(run), 'unknown run');
		}
	},
	{
		title: 'J12 gives one writer at a time the lock, and writes only with it',
		async check(make, run) {
			const [store, events] = [await make(), sampleJournal(run, 4)];
			const lock = await written(store, events.slice(0, 2));
			same(await store.lock(run), null);
			lock.release();
			await refuses(() => store.append(run, [events[2]!], lock), 'no lock');
			const again = await store.lock(run);
			holds(again, 'the lock is free again');
			await store.append(run, [events[2]!], again);
			again.release();
			same((await store.open(run)).events, events.slice(0, 3));
		}
	},
	{
		title: 'J1 lists its runs without opening them: who, what, where the walk stands, how it ended',
		async check(make, run) {
			const store = await make();
			let events = sampleJournal(run, 4);
			const end = { kind: 'completed', data: {} } as const;
			events = [...events, sealNext(run, events, end)];
			(await written(store, events)).release();
			const listed = (await store.list()).find((row) => row.run === run);
			const { at } = events[4]!;
			same(listed, { run, count: 5, begunAt: events[0]!.at, lastAt: at, edition: 'sample', title: 'Sample walk', person: 'Robin (invented)', step: 'one/3', ended: 'complete', invented: true });
		}
	},
	{
		title: 'J1 lists the step before where the last one was taken back, and an end that was taken back as open',
		async check(make, run) {
			const store = await make();
			let events = sampleJournal(run, 4);
			events = [...events, sealNext(run, events, { kind: 'completed', data: {} })];
			events = [...events, sealNext(run, events, { kind: 'undone', data: { events: [3, 4], restores: 'parts' } })];
			(await written(store, events)).release();
			const listed = (await store.list()).find((row) => row.run === run);
			same([listed?.step, listed?.ended, listed?.count], ['one/1', null, 6]);
		}
	},
	{
		title: 'J13 brings in a journal; again it changes nothing; a longer one adds the rest; another chain is refused',
		async check(make, run) {
			const [store, events] = [await make(), sampleJournal(run, 6)];
			await store.bring(events.slice(0, 4));
			await store.bring(events.slice(0, 4));
			await store.bring(events.slice(0, 2));
			same((await store.open(run)).events, events.slice(0, 4));
			await refuses(() => store.bring(sampleJournal(run, 5, 'other words')), 'another chain');
			await store.bring(events);
			same((await store.open(run)).events, events);
		}
	},
	{
		title: 'J5 refuses to bring in an altered journal',
		async check(make, run) {
			const store = await make();
			const events = sampleJournal(run, 3).map((event, i) => (i === 1 ? { ...event, by: 'someone else' } : event));
			await refuses(() => store.bring(events), 'damaged');
			await refuses(() => store.open(run), 'unknown run');
		}
	},
	{
		title: 'J14 keeps attachments by their hash, also large ones, and knows which are not here',
		async check(make, run) {
			const store = await make();
			const bytes = Uint8Array.from({ length: 300_000 }, (_, i) => (i * 31) % 251);
			await store.putAttachment(run, sha256OfBytes(bytes), bytes, 'image/jpeg');
			const found = await store.attachment(run, sha256OfBytes(bytes));
			holds(found, 'the attachment is here');
			same([found.type, found.bytes.length, sha256OfBytes(found.bytes)], ['image/jpeg', bytes.length, sha256OfBytes(bytes)]);
			same(await store.attachment(run, 'a'.repeat(64)), null);
		}
	},
	{
		title: 'J15 keeps the last sign of life of a run',
		async check(make, run) {
			const store = await make();
			same(await store.lastBeat(run), null);
			const beat = { at: '2026-05-04T10:00:00.000+02:00', mono: 1, boot: 'b1' };
			await store.beat(run, beat);
			await store.beat(run, { ...beat, mono: 2 });
			same(await store.lastBeat(run), { ...beat, mono: 2 });
		}
	},
	{
		title: 'J16 removes a run with all that belongs to it, and no other',
		async check(make, run) {
			const store = await make();
			const other = run.replace(/^0/, 'f');
			(await written(store, sampleJournal(run, 3))).release();
			(await written(store, sampleJournal(other, 3))).release();
			await store.putAttachment(run, sha256OfBytes(new Uint8Array([1])), new Uint8Array([1]), 'text/plain');
			await store.beat(run, { at: '2026-05-04T10:00:00.000+02:00', mono: 1, boot: 'b1' });
			await store.remove(run);
			await refuses(() => store.open(run), 'unknown run');
			same([await store.attachment(run, sha256OfBytes(new Uint8Array([1]))), await store.lastBeat(run)], [null, null]);
			same((await store.list()).map((row) => row.run).filter((id) => [run, other].includes(id)), [other]);
			await store.remove(other);
		}
	},
	{
		title: 'J11 has everything again after a restart, and goes on',
		lasting: true,
		async check(make, run) {
			const [first, events] = [await make(), sampleJournal(run, 6)];
			(await written(first, events.slice(0, 4))).release();
			await first.beat(run, { at: '2026-05-04T10:00:00.000+02:00', mono: 7, boot: 'b1' });
			const second = await make();
			same((await second.open(run)).events, events.slice(0, 4));
			same((await second.open(run)).mended, []);
			same((await second.lastBeat(run))?.mono, 7);
			const lock = await second.lock(run);
			holds(lock, 'the lock is free');
			await second.append(run, events.slice(4), lock);
			lock.release();
			same((await first.open(run)).events, events);
		}
	}
];
