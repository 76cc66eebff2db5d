import { createStore, get, set } from 'idb-keyval';
import type { KeyShelf } from './device-signer';

/** The key pair in IndexedDB, by structured clone: what is not exportable stays so. Losing it loses no proof, only the next signature's name. */
export function keyShelf(): KeyShelf {
	const store = createStore('handrail-key', 'pair');
	return { get: () => get<CryptoKeyPair>('device', store), put: (pair) => set('device', pair, store) };
}
