import type { PublicKey, Verify } from '$lib/ports/signer';
import type { JournalEvent } from '$lib/run/events';
import { fromBase64url } from './base64url';
import { hashedForm } from './chain';
import { type Closing, closingMessage } from './close';
import { merkleRoot } from './merkle';
import type { ReadJournal } from './read-journal';

/** What a journal proves by itself: chain, closings and their signatures. Nothing here trusts a key; who owns it must be known from elsewhere. */
export interface Proof {
	readonly run: string;
	readonly edition: { readonly id: string; readonly version: string; readonly hash: string; readonly title: string };
	readonly people: readonly string[];
	readonly devices: readonly string[];
	readonly beganAt: string;
	readonly lastAt: string;
	readonly count: number;
	readonly head: string;
	/** How the run ended, as its events say. */
	readonly ended: 'complete' | 'aborted' | null;
	/** First event that was altered or is missing. */
	readonly fault: ReadJournal['fault'];
	readonly closings: readonly ClosingProof[];
	readonly verdict: Verdict;
}

/**
 * `signed`: the last event closes all before it, signed well. `unsigned`: the same without a signature, so that anyone could
 * have made it. `open`: nothing closes the end; the run goes on or its end was cut off. `altered`: an event, a root or a
 * signature does not fit.
 */
export type Verdict = 'signed' | 'unsigned' | 'open' | 'altered';

export interface ClosingProof {
	readonly seq: number;
	readonly at: string;
	readonly by: string;
	readonly device: string;
	/** Null where everything fits. */
	readonly fault: string | null;
	readonly signature: 'valid' | 'invalid' | 'none';
	readonly key: PublicKey | null;
	/** The key was named at the run's begin, or only by the closing itself. */
	readonly keyFrom: 'genesis' | 'closing' | null;
	readonly countersigned: readonly { readonly name: string; readonly key: PublicKey; readonly valid: boolean }[];
}

/** Throws RangeError where there is no sound event 0. */
export async function prove({ events, fault }: ReadJournal, verify: Verify): Promise<Proof> {
	const [first, last] = [events[0], events[events.length - 1]];
	if (first?.kind !== 'begun' || !last) throw new RangeError(`nothing can be proved: ${fault?.reason ?? 'the journal has no event 0'}`);
	// nothing but a closing asks for them
	const leaves = events.some(({ kind }) => kind === 'closed') ? events.map(hashedForm) : [];
	const closings: ClosingProof[] = [];
	for (const event of events) if (event.kind === 'closed') closings.push(await closingProof(event, events, leaves, first.data.key, verify));
	const end = events.findLast(({ kind }) => kind === 'completed' || kind === 'aborted')?.kind;
	const { id, version, hash, body } = first.data.edition;
	return {
		run: first.run,
		edition: { id, version, hash, title: body.title[body.languages[0] ?? 'en'] ?? id },
		people: [...new Set(events.map(({ by }) => by))],
		devices: [...new Set(events.map(({ device }) => device))],
		beganAt: first.at,
		lastAt: last.at,
		count: events.length,
		head: last.hash,
		ended: end === 'completed' ? 'complete' : end === 'aborted' ? 'aborted' : null,
		fault,
		closings,
		verdict: verdictOf(closings, last, fault !== null)
	};
}

function verdictOf(closings: readonly ClosingProof[], last: JournalEvent, broken: boolean): Verdict {
	if (broken || closings.some(({ fault, countersigned }) => fault !== null || countersigned.some(({ valid }) => !valid))) return 'altered';
	const closing = closings[closings.length - 1];
	if (!closing || closing.seq !== last.seq) return 'open';
	return closing.signature === 'valid' ? 'signed' : 'unsigned';
}

type ClosedEvent = Extract<JournalEvent, { kind: 'closed' }>;

async function closingProof(event: ClosedEvent, events: readonly JournalEvent[], leaves: readonly string[], genesisKey: PublicKey | null, verify: Verify): Promise<ClosingProof> {
	const { seq, at, by, device, data, run } = event;
	const key = data.key ?? genesisKey;
	const signature = data.signature === null ? 'none' : key && (await fits(key, data.signature, run, data, verify)) ? 'valid' : 'invalid';
	const countersigned = await Promise.all((data.countersigned ?? []).map(async (one) => ({ name: one.name, key: one.key, valid: await fits(one.key, one.signature, run, data, verify) })));
	return { seq, at, by, device, fault: closingFault(data, seq, events, leaves, signature), signature, key, keyFrom: key === null ? null : data.key ? 'closing' : 'genesis', countersigned };
}

async function fits(key: PublicKey, signature: string, run: string, closing: Closing, verify: Verify): Promise<boolean> {
	const bytes = fromBase64url(signature);
	return bytes !== null && (await verify(key, bytes, closingMessage(run, closing)));
}

function closingFault(closing: Closing, seq: number, events: readonly JournalEvent[], leaves: readonly string[], signature: ClosingProof['signature']): string | null {
	if (closing.count !== seq) return `it closes ${closing.count} events; ${seq} stand before it`;
	if (closing.head !== events[seq - 1]?.hash) return 'it names another head than the event before it has';
	if (closing.root !== merkleRoot(leaves.slice(0, seq))) return 'its Merkle root does not fit the events before it';
	return signature === 'invalid' ? 'its signature does not fit' : null;
}
