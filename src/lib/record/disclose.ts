import type { PublicKey, Verify } from '$lib/ports/signer';
import type { JournalEvent } from '$lib/run/events';
import { canonical } from './canonical';
import { hashedForm, sha256Hex } from './chain';
import { type Closing, closingMessage } from './close';
import { fromBase64url } from './base64url';
import { inclusionPath, isIncluded } from './merkle';

const FORMAT = 'handrail-disclosure';

/** One event shown with the proof that it stands in a closed journal; all others are withheld, the path tells only hashes of them. */
export interface Disclosure {
	readonly format: typeof FORMAT;
	readonly version: 1;
	readonly event: JournalEvent;
	readonly path: readonly string[];
	readonly closing: Pick<Closing, 'head' | 'count' | 'root' | 'signature'>;
	readonly key: PublicKey | null;
}

/** Canonical JSON with a line feed at its end. Throws RangeError for an event that no closing covers. */
export function disclose(events: readonly JournalEvent[], seq: number): string {
	const closed = events.findLast((event) => event.kind === 'closed');
	const [first, event] = [events[0], events[seq]];
	if (!closed || first?.kind !== 'begun') throw new RangeError('the journal has no closing: a single event can be proved only after the run was closed');
	if (!event || seq >= closed.data.count) throw new RangeError(`event ${seq} is not covered by the closing; expected 0 to ${closed.data.count - 1}`);
	const { head, count, root, signature, key } = closed.data;
	const path = inclusionPath(events.slice(0, count).map(hashedForm), seq);
	return canonical({ format: FORMAT, version: 1, event, path, closing: { head, count, root, signature }, key: key ?? first.data.key } satisfies Disclosure) + '\n';
}

/** Null if the text is no disclosure at all. */
export function readDisclosure(text: string): Disclosure | null {
	try {
		const value = JSON.parse(text) as Partial<Disclosure> | null;
		return value?.format === FORMAT && value.version === 1 && value.event && Array.isArray(value.path) && value.closing ? (value as Disclosure) : null;
	} catch (fault) {
		if (fault instanceof SyntaxError) return null;
		throw fault;
	}
}

/** Why a disclosure proves nothing, or null if its event stands under a closing that was signed by its key. */
export async function disclosureFault({ event, path, closing, key }: Disclosure, verify: Verify): Promise<string | null> {
	try {
		if (sha256Hex(hashedForm(event)) !== event.hash) return 'the event was altered: its hash does not fit its content';
		if (!isIncluded(hashedForm(event), event.seq, closing.count, path, closing.root)) return 'the event does not stand under the closing’s Merkle root';
		if (closing.signature === null || key === null) return 'the closing is not signed: anyone could have made it';
		const signature = fromBase64url(closing.signature);
		return signature && (await verify(key, signature, closingMessage(event.run, closing))) ? null : 'the closing’s signature does not fit';
	} catch (fault) {
		if (fault instanceof RangeError || fault instanceof TypeError) return `the disclosure is malformed: ${fault.message}`;
		throw fault;
	}
}
