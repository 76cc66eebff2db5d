import { createDeviceStore } from '$lib/adapters/device-store';
import type { JournalStore, StorageReport, WriterLock } from '$lib/ports/journal-store';
import { sha256OfBytes } from '$lib/record/chain';
import type { JournalEvent } from '$lib/run/events';
import { journalStoreCases } from '../contract/journal-store';
import { begun, sampleRun, sealNext } from '../contract/sample-journal';
import { latency } from './latency';

/** What the page does when the driver asks. Bound by the driver: `acknowledged(run, seq, hash)` notes what was durable before a kill. */
export interface CrashPage {
	/** Runs the contract suite on the device's store; returns the titles that failed, with why. */
	contract(): Promise<{ passed: number; failed: string[]; report: StorageReport }>;
	/** What each copy holds, read past the store and before it: events in the database, whole lines and left-over bytes in the file. */
	peek(run: string): Promise<{ database: number; file: number; tail: number }>;
	open(run: string, rotate: boolean): Promise<{ hashes: string[]; mended: unknown[]; fault: unknown; copies: readonly string[]; problems: readonly string[] }>;
	/** Writes as fast as it can until it is killed, or `count` events. */
	write(run: string, count: number): Promise<void>;
	latency: typeof latency;
}

declare global {
	interface Window {
		crash: CrashPage;
		acknowledged(run: string, seq: number, hash: string): Promise<void>;
	}
}

let store: JournalStore | null = null;
let events: readonly JournalEvent[] = [];
let lock: WriterLock | null = null;

async function peek(run: string) {
	const database = await countEvents(run);
	const lines = await fileText(run);
	return { database, file: lines.length - 1, tail: lines[lines.length - 1]!.length };
}

/** Minus one where the browser can't open its database any more. */
async function countEvents(run: string): Promise<number> {
	try {
		// opening a database that is gone would create an empty one without our stores
		if (!(await indexedDB.databases()).some(({ name }) => name === 'handrail-journals')) return 0;
		const opened = await settled(indexedDB.open('handrail-journals'));
		const count = await settled(opened.transaction('events').objectStore('events').count(IDBKeyRange.bound([run, 0], [run, Infinity])));
		opened.close();
		return count;
	} catch (thrown) {
		if (thrown instanceof DOMException && thrown.name === 'UnknownError') return -1;
		throw thrown;
	}
}

const settled = <T>(request: IDBRequest<T>) =>
	new Promise<T>((resolve, reject) => {
		request.onsuccess = () => resolve(request.result);
		request.onerror = () => reject(request.error);
	});

async function fileText(run: string): Promise<string[]> {
	try {
		const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle('journals');
		return (await (await (await folder.getFileHandle(`${run}.journal.jsonl`)).getFile()).text()).split('\n');
	} catch (thrown) {
		if (thrown instanceof DOMException && thrown.name === 'NotFoundError') return [''];
		throw thrown;
	}
}

window.crash = {
	async contract() {
		const failed: string[] = [];
		let report: StorageReport | null = null;
		const make = async () => {
			const made = await createDeviceStore();
			report = made.report;
			return made.store;
		};
		for (const [i, one] of journalStoreCases.entries())
			await one.check(make, sampleRun(0xc0 + i)).catch((thrown: unknown) => failed.push(`${one.title}: ${String(thrown)}`));
		return { passed: journalStoreCases.length - failed.length, failed, report: report! };
	},
	peek,
	async open(run, rotate) {
		const made = await createDeviceStore({ rotate });
		store = made.store;
		lock = await store.lock(run);
		const known = (await store.list()).some((listing) => listing.run === run);
		const opened = known ? await store.open(run) : { events: [], mended: [], fault: null };
		events = opened.events;
		return { hashes: events.map(({ hash }) => hash), mended: [...opened.mended], fault: opened.fault, copies: store.copies, problems: made.report.problems };
	},
	async write(run, count) {
		if (!store || !lock) throw new Error('open the run first; another tab may hold it');
		let journal = [...events];
		for (let i = 0; i < count; i++) {
			const n = journal.length;
			const draft = n === 0 ? begun : ({ kind: 'note', data: { text: `event ${n} ${'padding '.repeat(n % 40)}` } } as const);
			const event = sealNext(run, journal, draft);
			await store.append(run, [event], lock);
			void window.acknowledged(run, event.seq, event.hash);
			journal = journal.concat(event);
			if (n % 10 === 3) await store.beat(run, { at: event.at, mono: event.mono, boot: event.boot });
			if (n % 50 === 7) {
				const photo = new Uint8Array(30_000).fill(n % 256);
				await store.putAttachment(run, sha256OfBytes(photo), photo, 'image/jpeg');
			}
		}
		events = journal;
	},
	latency
};
