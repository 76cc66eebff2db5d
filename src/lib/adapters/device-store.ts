import type { JournalStore, StorageReport } from '$lib/ports/journal-store';
import { databaseCopy, rotateLog } from './indexeddb/database-copy';
import { localLocks } from './locks/local-locks';
import { webLocks } from './locks/web-locks';
import { fileCopy } from './opfs/file-copy';
import { storageReport } from './storage/storage-report';
import { asStoreFault, type StoreFaultCode } from './store-fault';
import { cacheMarker, localMarker } from './two-copies/marker';
import { TwoCopiesStore } from './two-copies/two-copies-store';

export interface DeviceStoreOptions {
	/** Only the crash test turns it off, to provoke what it prevents. */
	readonly rotate?: boolean;
}

/**
 * The store of this device, with all copies that the browser offers, and what was found about its storage. Call it before
 * anything else writes to IndexedDB. Where nothing durable is offered the store is in memory and `copies` is empty.
 */
export async function createDeviceStore({ rotate = true }: DeviceStoreOptions = {}): Promise<{ store: JournalStore; report: StorageReport }> {
	const [database, file] = [await openDatabase(rotate), await openFile()];
	const storage: StorageManager | undefined = navigator.storage;
	const copies = [database.copy, file.copy].flatMap((copy) => copy?.name ?? []);
	const fileDenied = file.code === 'denied';
	if (!copies.length) {
		const { memoryStore } = await import('./memory/memory-store');
		return { store: memoryStore(), report: await storageReport({ copies, fileDenied, vanished: [] }, storage) };
	}
	const store = new TwoCopiesStore({
		database: database.copy,
		file: file.copy,
		locks: 'locks' in navigator ? webLocks(navigator.locks) : localLocks(),
		marker: 'caches' in globalThis ? cacheMarker(caches, location.origin) : localMarker()
	});
	return { store, report: await storageReport({ copies, fileDenied, vanished: await store.vanished() }, storage) };
}

type Tried<T> = { readonly copy: T; readonly code?: undefined } | { readonly copy: null; readonly code: StoreFaultCode };

/** A browser that finds its database broken fails to open it once, deletes it, and opens an empty one at the next asking. */
const TRIES = 3;
const WAIT_MS = 100;

/** Null where the browser has no database or denies it: the report says so. */
async function openDatabase(rotate: boolean): Promise<Tried<ReturnType<typeof databaseCopy>>> {
	for (let i = 1; ; i++)
		try {
			if (rotate) await rotateLog(indexedDB);
			const copy = databaseCopy(indexedDB);
			await copy.rows();
			return { copy };
		} catch (thrown) {
			const { code } = asStoreFault(thrown, 'opening the database');
			if (code !== 'failed' || i === TRIES) return { copy: null, code };
			await new Promise((resolve) => setTimeout(resolve, WAIT_MS));
		}
}

/** Null where the browser has no private files, no synchronous access to them, or denies them. */
async function openFile(): Promise<Tried<ReturnType<typeof fileCopy>>> {
	if (!navigator.storage?.getDirectory) return { copy: null, code: 'failed' };
	const worker = new Worker(new URL('../../workers/journal-file.worker.ts', import.meta.url), { type: 'module' });
	try {
		const copy = fileCopy(worker);
		await copy.probe();
		return { copy };
	} catch (thrown) {
		worker.terminate();
		return { copy: null, code: asStoreFault(thrown, 'opening the journal files').code };
	}
}
