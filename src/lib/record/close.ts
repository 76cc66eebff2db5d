import { utf8ToBytes } from '@noble/hashes/utils.js';
import type { Signer } from '$lib/ports/signer';
import type { EventData, JournalEvent } from '$lib/run/events';
import { toBase64url } from './base64url';
import { canonical } from './canonical';
import { hashedForm } from './chain';
import { merkleRoot } from './merkle';

export type Closing = EventData['closed'];

/** What a closing's signature covers: run, head, count and root, so that no closing fits another journal or another length. */
export function closingMessage(run: string, { head, count, root }: Pick<Closing, 'head' | 'count' | 'root'>): Uint8Array {
	return utf8ToBytes(canonical({ format: 'handrail-closing', version: 1, run, head, count, root }));
}

/** What a closing names: head, number and Merkle root (RFC 9162) of all events before it. Throws RangeError for an empty journal. */
export function endOf(events: readonly JournalEvent[]): Pick<Closing, 'head' | 'count' | 'root'> {
	const last = events[events.length - 1];
	if (!last) throw new RangeError('there is nothing to close: the journal has no event 0');
	return { head: last.hash, count: events.length, root: merkleRoot(events.map(hashedForm)) };
}

/**
 * The data of the `closed` event that ends a journal, signed (Ed25519, base64url) where the device has a key. The key is inside
 * where the genesis names another or none: the pen may have come to another device. People's signatures over the same message are
 * kept beside the device's. Throws RangeError for an empty journal.
 */
export async function closingOf(events: readonly JournalEvent[], signer: Signer | null, countersigned: NonNullable<Closing['countersigned']> = []): Promise<Closing> {
	const first = events[0];
	if (first?.kind !== 'begun') throw new RangeError('there is nothing to close: the journal has no event 0');
	const closing = { ...endOf(events), ...(countersigned.length ? { countersigned } : {}) };
	if (!signer) return { ...closing, signature: null };
	const signature = toBase64url(await signer.sign(closingMessage(first.run, closing)));
	return first.data.key?.['x'] === signer.key['x'] ? { ...closing, signature } : { ...closing, signature, key: signer.key };
}
