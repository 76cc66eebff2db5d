import type { JournalEvent } from '$lib/run/events';
import { canonical } from './canonical';
import { lineOf } from './chain';
import { readJournal, type ReadJournal } from './read-journal';

const FORMAT = 'handrail-journal';
const VERSION = 1;

/** The members that stand before the events. */
export interface JsonHead {
	readonly format: typeof FORMAT;
	readonly version: typeof VERSION;
	readonly run: string;
	readonly count: number;
	/** Hash of the last event: also shows a cut at the end, if it is known from elsewhere. */
	readonly head: string;
	/** Present where the journal that was read is broken: only its sound prefix is here. */
	readonly fault?: { readonly seq: number; readonly reason: string };
}

/**
 * The whole journal with its chain as one JSON text, an event a line, each in the form that is hashed. Read back with
 * `fromJson` it is the same journal, byte for byte. Throws RangeError where there is no event 0.
 */
export function toJson({ events, fault }: ReadJournal): string {
	const last = events[events.length - 1];
	if (!last) throw new RangeError(`there is nothing to export: ${fault?.reason ?? 'the journal has no event 0'}`);
	const head: JsonHead = { format: FORMAT, version: VERSION, run: last.run, count: events.length, head: last.hash, ...(fault ? { fault: { seq: fault.seq, reason: fault.reason } } : {}) };
	const members = canonical(head).slice(0, -1);
	return `${members},"events":[\n${events.map((event) => lineOf(event)).join(',\n')}\n]}\n`;
}

/** The first line of such an export opens its list of events; a journal's first line is a whole event. */
export const isJsonExport = (text: string): boolean => text.slice(0, text.indexOf('\n')).endsWith('"events":[');

/** Reads it back and verifies the chain, count and head. Throws RangeError with a sentence where it is no such export. */
export function fromJson(text: string): ReadJournal {
	let value: unknown;
	try {
		value = JSON.parse(text);
	} catch (fault) {
		if (fault instanceof SyntaxError) throw new RangeError(`the file is not JSON: ${fault.message}`, { cause: fault });
		throw fault;
	}
	const head = value as (JsonHead & { events?: unknown }) | null;
	if (typeof head !== 'object' || head === null || head.format !== FORMAT) throw new RangeError(`the file is no exported journal: expected "format": "${FORMAT}"`);
	if (head.version !== VERSION) throw new RangeError(`the export has version ${String(head.version)}; this version reads ${VERSION}`);
	if (!Array.isArray(head.events)) throw new RangeError('the export has no "events"; expected a list');
	const read = readJournal((head.events as JournalEvent[]).map((event) => canonical(event) + '\n').join(''));
	if (read.fault) return read;
	const last = read.events[read.events.length - 1]!;
	if (head.count === read.events.length && head.head === last.hash && head.run === last.run) return read;
	const reason = `the export says ${String(head.count)} events with head ${String(head.head)}; it holds ${read.events.length} with head ${last.hash}`;
	return { events: read.events, fault: { seq: read.events.length, line: read.events.length + 1, reason } };
}
