import { type Draft, ENVELOPE, type Envelope, GENESIS_PREV, type Hand, type JournalEvent } from '$lib/run/events';
import { canonical } from './canonical';
import { sha256Hex } from './sha256';

export { sha256Hex, sha256OfBytes } from './sha256';

/** The byte string that an event's hash covers, and that is its Merkle leaf: its RFC 8785 form without `hash`. */
export function hashedForm(event: Omit<Envelope, 'hash'> & { hash?: string }): string {
	const { hash: _, ...rest } = event;
	return canonical(rest);
}

/** When an event happened, by both clocks. */
export interface Stamp {
	/** RFC 3339 with offset and milliseconds. */
	readonly at: string;
	readonly mono: number;
	readonly boot: string;
}

/** The end of a chain, to which the next event is tied. */
export interface Head {
	readonly run: string;
	readonly seq: number;
	readonly hash: string;
}

/** Head before event 0. */
export const beforeGenesis = (run: string): Head => ({ run, seq: -1, hash: GENESIS_PREV });

/** Stamps a draft, ties it to the head and hashes it. */
export function seal(draft: Draft, head: Head, stamp: Stamp, hand: Hand): JournalEvent {
	const open = { v: ENVELOPE as typeof ENVELOPE, run: head.run, seq: head.seq + 1, ...draft, ...stamp, ...hand, prev: head.hash };
	return { ...open, hash: sha256Hex(hashedForm(open)) } as JournalEvent;
}

/** The line of an event in a journal file, without its line feed. */
export const lineOf = (event: Envelope): string => canonical(event);
