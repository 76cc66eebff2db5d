import { asStoreFault, StoreFault } from '../store-fault';

export const DATABASE = 'handrail-journals';
const VERSION = 1;
export type StoreName = 'events' | 'runs' | 'attachments' | 'beats' | 'setAside';

/** A connection that opens itself anew after the browser closed it. */
export class Connection {
	#open: Promise<IDBDatabase> | null = null;

	constructor(readonly factory: IDBFactory) {}

	database(): Promise<IDBDatabase> {
		this.#open ??= this.#connect().catch((thrown: unknown) => {
			this.#open = null;
			throw asStoreFault(thrown, 'opening the database');
		});
		return this.#open;
	}

	#connect(): Promise<IDBDatabase> {
		return new Promise((resolve, reject) => {
			const request = this.factory.open(DATABASE, VERSION);
			request.onupgradeneeded = () => {
				for (const name of ['events', 'runs', 'attachments', 'beats'] satisfies StoreName[]) request.result.createObjectStore(name);
				request.result.createObjectStore('setAside' satisfies StoreName, { autoIncrement: true });
			};
			request.onblocked = () => reject(new StoreFault('denied', 'another tab holds an old database open; close the other tabs'));
			request.onerror = () => reject(request.error);
			request.onsuccess = () => {
				const database = request.result;
				const forget = () => (this.#open = null);
				database.onclose = forget;
				database.onversionchange = () => {
					database.close();
					forget();
				};
				resolve(database);
			};
		});
	}

	/** Runs `work` in one strict transaction and resolves with its result once that is durable. `work` may only await requests of the transaction. */
	async write<T>(stores: readonly StoreName[], work: (at: (name: StoreName) => IDBObjectStore) => Promise<T> | T, durability: IDBTransactionDurability = 'strict'): Promise<T> {
		const transaction = (await this.database()).transaction([...stores], 'readwrite', { durability });
		const done = settled(transaction);
		try {
			const result = await work((name) => transaction.objectStore(name));
			await done;
			return result;
		} catch (thrown) {
			if (!transaction.error) abort(transaction);
			await done.catch(() => undefined); // the reason is `thrown`, or the transaction's own error
			throw transaction.error ?? thrown;
		}
	}

	async read<T>(store: StoreName, work: (at: IDBObjectStore) => IDBRequest<T>): Promise<T> {
		return result(work((await this.database()).transaction(store, 'readonly').objectStore(store)));
	}
}

/** A request as a promise. */
export function result<T>(request: IDBRequest<T>): Promise<T> {
	return new Promise((resolve, reject) => {
		request.onsuccess = () => resolve(request.result);
		request.onerror = () => reject(request.error);
	});
}

function settled(transaction: IDBTransaction): Promise<void> {
	return new Promise((resolve, reject) => {
		transaction.oncomplete = () => resolve();
		transaction.onabort = () => reject(transaction.error ?? new DOMException('aborted', 'AbortError'));
	});
}

function abort(transaction: IDBTransaction): void {
	try {
		transaction.abort();
	} catch (thrown) {
		// it had ended by itself already
		if (!(thrown instanceof DOMException && thrown.name === 'InvalidStateError')) throw thrown;
	}
}
