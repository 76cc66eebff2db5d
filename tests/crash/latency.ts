import { createDeviceStore } from '$lib/adapters/device-store';
import type { JournalEvent } from '$lib/run/events';
import { sampleJournal, sampleRun, sealNext } from '../contract/sample-journal';

/** Measured in milliseconds: one touch from sealing its event to the frame after it is durable, against a bare strict put and a frame. */
export interface Latency {
	readonly durableMs: number[];
	readonly paintedMs: number[];
	readonly barePutMs: number[];
	readonly barePaintedMs: number[];
	/** Opening the journal of `events` events in a fresh store, several times. */
	readonly reopenMs: number[];
	/** One event after another as fast as they go: the first 200, and 200 behind all others. */
	readonly firstAppendsMs: number[];
	readonly lastAppendsMs: number[];
	readonly events: number;
}

const frame = () => new Promise<number>((resolve) => requestAnimationFrame(() => resolve(performance.now())));

async function bareDatabase(): Promise<IDBDatabase> {
	return new Promise((resolve, reject) => {
		const request = indexedDB.open('bare', 1);
		request.onupgradeneeded = () => request.result.createObjectStore('values');
		request.onsuccess = () => resolve(request.result);
		request.onerror = () => reject(request.error);
	});
}

/** Alternates the two kinds of write, so that both meet the same machine. A run of its own; the journal is `events` long before. */
export async function latency(events: number, touches: number): Promise<Latency> {
	const run = sampleRun(0xa11);
	const { store } = await createDeviceStore();
	const lock = await store.lock(run);
	if (!lock) throw new Error('the run is held by another tab');
	const journal: JournalEvent[] = sampleJournal(run, events, 'a sentence of about the length that a note has on a walk');
	const firstAppendsMs: number[] = [];
	for (const event of journal.slice(0, 200)) {
		const from = performance.now();
		await store.append(run, [event], lock);
		firstAppendsMs.push(performance.now() - from);
	}
	for (let i = 200; i < journal.length; i += 500) await store.append(run, journal.slice(i, i + 500), lock);
	const bare = await bareDatabase();
	const durableMs: number[] = [], paintedMs: number[] = [], barePutMs: number[] = [], barePaintedMs: number[] = [];
	for (let i = 0; i < touches; i++) {
		await frame();
		const from = performance.now();
		const event = sealNext(run, journal, { kind: 'stepEntered', data: { step: `one/touch-${i}` } });
		await store.append(run, [event], lock);
		durableMs.push(performance.now() - from);
		paintedMs.push((await frame()) - from);
		journal.push(event);
		await frame();
		const bareFrom = performance.now();
		await new Promise<void>((resolve, reject) => {
			const transaction = bare.transaction('values', 'readwrite', { durability: 'strict' });
			transaction.objectStore('values').put(JSON.stringify(event), i);
			transaction.oncomplete = () => resolve();
			transaction.onabort = () => reject(transaction.error);
		});
		barePutMs.push(performance.now() - bareFrom);
		barePaintedMs.push((await frame()) - bareFrom);
	}
	const lastAppendsMs: number[] = [];
	for (let i = 0; i < 200; i++) {
		const event = sealNext(run, journal, { kind: 'stepEntered', data: { step: `one/last-${i}` } });
		const from = performance.now();
		await store.append(run, [event], lock);
		lastAppendsMs.push(performance.now() - from);
		journal.push(event);
	}
	lock.release();
	bare.close();
	const reopenMs: number[] = [];
	for (let i = 0; i < 11; i++) {
		const from = performance.now();
		const again = await createDeviceStore();
		const opened = await again.store.open(run);
		if (opened.events.length !== journal.length || opened.fault) throw new Error(`reopened ${opened.events.length} of ${journal.length} events`);
		reopenMs.push(performance.now() - from);
	}
	return { durableMs, paintedMs, barePutMs, barePaintedMs, reopenMs, firstAppendsMs, lastAppendsMs, events };
}
