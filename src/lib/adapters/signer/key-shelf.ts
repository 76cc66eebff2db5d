import { createStore, get, set } from 'idb-keyval';
import type { KeyShelf } from './device-signer';

/**
 * A key pair in IndexedDB, by structured clone: what is not exportable stays so. Losing it loses no proof, only the next signature's
 * name. Absent `person`: the device's own.
 */
export function keyShelf(person?: string): KeyShelf {
	const owner = person === undefined ? 'device' : `person ${person}`;
	const store = createStore('handrail-key', 'pair');
	return { get: () => get<CryptoKeyPair>(owner, store), put: (pair) => set(owner, pair, store) };
}
