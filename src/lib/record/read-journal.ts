import { ENVELOPE, type Envelope, GENESIS_PREV, type JournalEvent } from '$lib/run/events';
import { isCanonical } from './canonical';
import { hashedForm, sha256Hex } from './chain';
import { SharedEditions } from './shared-editions';

/** A journal as read: the sound prefix, and the first fault if there is one. */
export interface ReadJournal {
	readonly events: JournalEvent[];
	readonly fault: JournalFault | null;
}

export interface JournalFault {
	/** Sequence number at which the chain breaks: the first event that is not sound. */
	readonly seq: number;
	readonly line: number;
	readonly reason: string;
}

/**
 * Reads a journal file (JSON Lines, one RFC 8785 event a line, LF at each end) and verifies its chain.
 * Never throws on content: everything before the first fault is returned, with the fault in a plain sentence. Who reads many
 * gives the editions that they share.
 */
export function readJournal(text: string, editions = new SharedEditions()): ReadJournal {
	const events: JournalEvent[] = [];
	const stop = (reason: string): ReadJournal => ({ events, fault: { seq: events.length, line: events.length + 1, reason } });
	let from = 0;
	while (from < text.length) {
		const to = text.indexOf('\n', from);
		if (to < 0) return stop('the last line is cut off: no line feed at its end');
		const line = text.slice(from, to);
		const checked = checkLine(line, events[events.length - 1], editions);
		if (typeof checked === 'string') return stop(checked);
		events.push(checked);
		from = to + 1;
	}
	return events.length ? { events, fault: null } : stop('the file is empty; expected event 0');
}

/** Verifies one line against the event before it. Returns the event, or the reason why it is not sound. */
export function checkLine(line: string, before: Envelope | undefined, editions?: SharedEditions): JournalEvent | string {
	let parsed: ParsedLine;
	try {
		parsed = editions && !before ? editions.parse(line) : parse(line);
	} catch {
		return 'the line is not JSON';
	}
	const shape = checkShape(parsed.value, before);
	if (shape) return shape;
	if (!parsed.canonical) return 'the line is not in canonical form (RFC 8785)';
	const event = parsed.value as JournalEvent;
	return sha256Hex(withoutHash(line, event)) === event.hash ? event : altered;
}

type ParsedLine = ReturnType<SharedEditions['parse']>;

function parse(line: string): ParsedLine {
	const value: unknown = JSON.parse(line);
	return { value, canonical: isCanonical(line, value) };
}

const altered = 'the event was altered: its hash does not fit its content';

/** A canonical line without its `hash`: cut out of the text where it stands but once, so that nothing is serialised again. */
function withoutHash(line: string, event: JournalEvent): string {
	const member = `"hash":"${event.hash}",`;
	const at = line.indexOf(member);
	return at > 0 && line.indexOf(member, at + 1) < 0 ? line.slice(0, at) + line.slice(at + member.length) : hashedForm(event);
}

/** Why a value is not the sound next event of a chain, or null if it is. */
export function checkEvent(value: unknown, before: Envelope | undefined): string | null {
	const shape = checkShape(value, before);
	if (shape) return shape;
	try {
		return sha256Hex(hashedForm(value as Envelope)) === (value as Envelope).hash ? null : altered;
	} catch (fault) {
		if (fault instanceof RangeError) return fault.message;
		throw fault;
	}
}

/** Everything but the hash of its content. */
function checkShape(value: unknown, before: Envelope | undefined): string | null {
	if (typeof value !== 'object' || value === null || Array.isArray(value)) return 'the line is no JSON object';
	const event = value as Envelope;
	if (event.v !== ENVELOPE) return `envelope version ${String(event.v)}; this version reads ${ENVELOPE}`;
	for (const field of ['run', 'kind', 'at', 'boot', 'by', 'device', 'via', 'prev', 'hash'] as const)
		if (typeof event[field] !== 'string') return `"${field}" is missing or no text`;
	for (const field of ['seq', 'mono'] as const)
		if (typeof event[field] !== 'number') return `"${field}" is missing or no number`;
	if (typeof event.data !== 'object' || event.data === null) return '"data" is missing or no object';
	if (before && event.run !== before.run) return 'the event belongs to another run';
	if (event.seq !== (before ? before.seq + 1 : 0)) return `event ${event.seq} stands where ${before ? before.seq + 1 : 0} was expected`;
	if (!before && event.kind !== 'begun') return `the first event is "${event.kind}"; expected "begun"`;
	if (event.prev !== (before ? before.hash : GENESIS_PREV)) return 'the event does not name the hash of the one before it';
	return null;
}
