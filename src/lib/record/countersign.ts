import type { PublicKey, Signer, Verify } from '$lib/ports/signer';
import type { JournalEvent } from '$lib/run/events';
import { fromBase64url, toBase64url } from './base64url';
import { canonical } from './canonical';
import { type Closing, closingMessage, endOf } from './close';

/** A person's signature as a closing keeps it. The name is a label: what proves is the key, and whose that is must be known from elsewhere. */
export type Countersigned = NonNullable<Closing['countersigned']>[number];

/** The same as a file that travels from the device it was made on, with what it signs. */
export interface Countersignature extends Countersigned, Pick<Closing, 'head' | 'count' | 'root'> {
	readonly format: typeof FORMAT;
	readonly version: typeof VERSION;
	readonly run: string;
}

const FORMAT = 'handrail-countersignature';
const VERSION = 1;
/** A signature file has well under a thousand. */
const MOST_CHARACTERS = 10_000;

/** Signs all events of a journal as they stand: the message of the closing that will keep the signature. Throws RangeError for an empty one. */
export async function countersign(events: readonly JournalEvent[], name: string, signer: Signer): Promise<Countersignature> {
	const last = events[events.length - 1];
	if (!last) throw new RangeError('there is nothing to countersign: the journal has no event 0');
	const closing = endOf(events);
	const signature = toBase64url(await signer.sign(closingMessage(last.run, closing)));
	return { format: FORMAT, version: VERSION, run: last.run, ...closing, name, key: signer.key, signature };
}

export const countersignatureText = (countersignature: Countersignature): string => canonical(countersignature) + '\n';

/** Throws RangeError with a sentence for what is no countersignature, or one of a later version. */
export function readCountersignature(text: string): Countersignature {
	if (text.length > MOST_CHARACTERS) throw new RangeError(`the file has ${text.length} characters; a signature file has at most ${MOST_CHARACTERS}`);
	const value = parsed(text) as Partial<Record<keyof Countersignature, unknown>> | null;
	if (typeof value !== 'object' || value === null || value.format !== FORMAT) throw new RangeError('the file is no countersignature; expected the signature file that the other device wrote');
	if (value.version !== VERSION) throw new RangeError(`the countersignature is of version ${String(value.version)}; this version reads ${VERSION}`);
	for (const field of ['run', 'head', 'root', 'name', 'signature'] as const)
		if (typeof value[field] !== 'string' || value[field] === '') throw new RangeError(`the countersignature is damaged: "${field}" is missing or no text`);
	if (typeof value.count !== 'number') throw new RangeError('the countersignature is damaged: "count" is missing or no number');
	const { kty, crv, x } = (value.key ?? {}) as Partial<PublicKey>;
	if (kty !== 'OKP' || crv !== 'Ed25519' || typeof x !== 'string') throw new RangeError('the countersignature is damaged: "key" is no Ed25519 key (RFC 8037)');
	const { run, head, count, root, name, signature } = value as Countersignature;
	return { format: FORMAT, version: VERSION, run, head, count, root, name, key: { kty, crv, x }, signature };
}

function parsed(text: string): unknown {
	try {
		return JSON.parse(text);
	} catch {
		throw new RangeError('the file is no countersignature: it is not JSON');
	}
}

/** Why a countersignature does not belong to this journal as it stands, in a sentence; null where it does. `deviceKey` closes the journal. */
export async function countersignatureFault(countersignature: Countersignature, events: readonly JournalEvent[], deviceKey: PublicKey, verify: Verify): Promise<string | null> {
	const { run, head, count, root, key, signature } = countersignature;
	const last = events[events.length - 1];
	if (run !== last?.run) return `it signs another run: ${run}`;
	if (count !== events.length || head !== last.hash) return `it signs the run as it was at ${count} events; here are ${events.length}. It must be signed as it stands`;
	if (root !== endOf(events).root) return 'it names another Merkle root than these events have';
	if (key['x'] === deviceKey['x']) return 'it was made with the key of the device that closed the run; expected a person’s own';
	const bytes = fromBase64url(signature);
	return bytes !== null && (await verify(key, bytes, closingMessage(run, countersignature))) ? null : 'the signature does not fit what it says it signs';
}
