import type { Mend, RunListing } from '$lib/ports/journal-store';
import type { JournalEvent } from '$lib/run/events';

/** What is kept of a run beside its events, so that listing runs opens none. */
export interface RunRow extends RunListing {
	/** Length of the journal file in bytes, by which a poorer copy is noticed without reading it. */
	readonly bytes: number;
	/** Steps entered and not taken back, newest last; cut to the last few. */
	readonly trail: readonly { readonly seq: number; readonly step: string }[];
	/** Sequence number of the end, so that an undone end reopens the listing. */
	readonly endSeq: number | null;
	/** Mends not yet told in the journal: cleared by the next append. */
	readonly mends: readonly Mend[];
}

const TRAIL = 32;

/** The row after some more events; `bytes` is the journal's new length. The first event must be `begun` where there is no row. */
export function rowAfter(before: RunRow | undefined, events: readonly JournalEvent[], bytes: number): RunRow {
	let row = before;
	for (const event of events) row = row ? step(row, event) : first(event);
	if (!row) throw new RangeError('no row and no events: expected at least `begun`');
	return { ...row, bytes };
}

function first(event: JournalEvent): RunRow {
	if (event.kind !== 'begun') throw new RangeError(`the first event is "${event.kind}"; expected "begun"`);
	const { edition, person, at, invented } = event.data;
	const title = edition.body.title[edition.body.languages[0] ?? 'en'] ?? edition.id;
	const common = { run: event.run, count: 1, begunAt: event.at, lastAt: event.at };
	return { ...common, edition: edition.id, title, person, step: at, ended: null, invented: invented === true, bytes: 0, trail: [{ seq: 0, step: at }], endSeq: null, mends: [] };
}

function step(row: RunRow, event: JournalEvent): RunRow {
	const next = { ...row, count: event.seq + 1, lastAt: event.at };
	switch (event.kind) {
		case 'stepEntered':
			return { ...next, step: event.data.step, trail: [...row.trail, { seq: event.seq, step: event.data.step }].slice(-TRAIL) };
		case 'undone': {
			const trail = row.trail.filter(({ seq }) => !event.data.events.includes(seq));
			const reopened = row.endSeq !== null && event.data.events.includes(row.endSeq);
			return { ...next, trail, step: trail[trail.length - 1]?.step ?? row.step, ...(reopened ? { ended: null, endSeq: null } : {}) };
		}
		case 'completed':
			return { ...next, ended: 'complete', endSeq: event.seq };
		case 'aborted':
			return { ...next, ended: 'aborted', endSeq: event.seq };
		default:
			return next;
	}
}

/** A row without what only the store needs. */
export function listingOf(row: RunRow): RunListing {
	const { run, count, begunAt, lastAt, edition, title, person, step, ended, invented } = row;
	return { run, count, begunAt, lastAt, edition, title, person, step, ended, invented };
}
