import type { Mend } from '$lib/ports/journal-store';
import { checkLine, readJournal } from '$lib/record/read-journal';
import type { JournalEvent } from '$lib/run/events';
import type { Repair } from './copy';

/**
 * Two copies of one journal become one: event by event the sound line of either is taken. A copy that ends where the sound
 * union ends bounds what was ever acknowledged, since an event counts only when it is in both; what another copy has behind
 * that bound and is not sound was never acknowledged and may be cut. Where no copy ends there, or both are sound and
 * differ, nothing is repaired: the prefix is shown with the fault.
 */
export interface United {
	readonly events: readonly JournalEvent[];
	/** Length of the sound journal. */
	readonly bytes: number;
	readonly fault: { readonly seq: number; readonly reason: string } | null;
	readonly repairs: readonly { readonly copy: 'database' | 'file'; readonly repair: Repair; readonly mend: Mend }[];
}

export interface CopyText {
	readonly name: 'database' | 'file';
	readonly text: string;
}

interface Split {
	readonly name: 'database' | 'file';
	readonly lines: readonly string[];
	/** Bytes behind the last line feed: a record that a crash cut short. */
	readonly tail: string;
}

export function unite(copies: readonly CopyText[]): United {
	const [one, other] = copies;
	if (one && (!other || other.text === one.text)) {
		const read = readJournal(one.text);
		if (!read.fault) return { events: read.events, bytes: new TextEncoder().encode(one.text).length, fault: null, repairs: [] };
	}
	const splits = copies.map(splitText);
	const { events, lines, fork, reasons } = takeSound(splits);
	const n = events.length;
	const bytes = bytesOf(lines);
	const states = splits.map((split) => ({ split, matching: matching(split.lines, lines) }));
	const ends = splits.some((split) => split.lines.length === n);
	const beyond = splits.some((split) => split.lines.slice(n).some((line) => (seqOf(line) ?? -1) > n));
	if (fork) return { events, bytes, fault: { seq: n, reason: `the two copies differ from event ${n} on, and both are sound; both are kept as they are` }, repairs: [] };
	if (!ends || beyond || (n === 0 && copies.some(({ text }) => text)))
		return { events, bytes, fault: { seq: n, reason: reasons[0] ?? `event ${n} is missing while later ones are there` }, repairs: [] };
	return { events, bytes, fault: null, repairs: states.flatMap((state) => repairOf(state.split, state.matching, lines)) };
}

function splitText({ name, text }: CopyText): Split {
	const lines = text.split('\n');
	const tail = lines.pop() ?? '';
	return { name, lines, tail };
}

/** Sequence number that a line claims; undefined where it can't be read. Only files lose their line count to damage. */
function seqOf(line: string): number | undefined {
	try {
		const seq = (JSON.parse(line) as { seq?: unknown } | null)?.seq;
		return typeof seq === 'number' ? seq : undefined;
	} catch (fault) {
		if (fault instanceof SyntaxError) return undefined;
		throw fault;
	}
}

function takeSound(splits: readonly Split[]) {
	const bySeq = splits.map(({ lines }) => {
		const map = new Map<number, string>();
		lines.forEach((line, i) => map.set(seqOf(line) ?? i, line));
		return map;
	});
	const events: JournalEvent[] = [];
	const lines: string[] = [];
	for (;;) {
		const candidates = [...new Set(bySeq.flatMap((map) => map.get(events.length) ?? []))];
		const checked = candidates.map((line) => ({ line, event: checkLine(line, events[events.length - 1]) }));
		const sound = checked.filter((c): c is { line: string; event: JournalEvent } => typeof c.event !== 'string');
		if (sound.length !== 1) return { events, lines, fork: sound.length > 1, reasons: checked.flatMap((c) => (typeof c.event === 'string' ? c.event : [])) };
		events.push(sound[0]!.event);
		lines.push(sound[0]!.line);
	}
}

function matching(has: readonly string[], should: readonly string[]): number {
	let n = 0;
	while (n < has.length && n < should.length && has[n] === should[n]) n++;
	return n;
}

function repairOf(split: Split, keep: number, lines: readonly string[]): United['repairs'] {
	const unsound = split.lines.length > keep || split.tail !== '';
	if (!unsound && keep === lines.length) return [];
	const what = unsound ? 'damaged' : split.lines.length === 0 ? 'lost' : 'behind';
	const mend: Mend = { copy: split.name, what, fromSeq: keep, events: lines.length - keep };
	const keepBytes = bytesOf(lines.slice(0, keep));
	return [{ copy: split.name, repair: { keepLines: keep, keepBytes, lines: lines.slice(keep), setAside: unsound }, mend }];
}

/** Length in bytes of lines with their line feeds. */
export function bytesOf(lines: readonly string[]): number {
	const encoder = new TextEncoder();
	return lines.reduce((sum, line) => sum + encoder.encode(line).length + 1, 0);
}
