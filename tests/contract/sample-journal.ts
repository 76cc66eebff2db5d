import { beforeGenesis, seal } from '$lib/record/chain';
import { type Edition } from '$lib/procedure/edition';
import type { Draft, Hand, JournalEvent } from '$lib/run/events';

/** An invented edition of one stage and two steps, just enough for a journal. */
export const sampleEdition: Edition = {
	format: 1,
	id: 'sample',
	version: '1',
	languages: ['en'],
	title: { en: 'Sample walk' },
	summary: { en: 'Invented.' },
	parts: [],
	settings: [],
	stages: [],
	steps: {},
	invariants: [],
	troubles: [],
	ends: { complete: { all: [] }, safe: { all: [] } },
	first: 'one/a'
};

export const sampleRun = (number: number): string => number.toString(16).padStart(32, '0');

const hand: Hand = { by: 'Robin (invented)', device: 'tablet', via: 'touch' };
const begin = Date.UTC(2026, 4, 4, 8);

export const begun: Draft = {
	kind: 'begun',
	data: {
		edition: { id: 'sample', version: '1', hash: 'e'.repeat(64), body: sampleEdition },
		key: null, person: 'Robin (invented)', supervisor: null, sample: 'S-1', project: 'P-1', booking: null,
		settings: {}, parts: {}, at: 'one/a', after: null, zone: 'UTC', invented: true
	}
};

/** Seals a draft behind the events of a journal, one second after the one before. */
export function sealNext(run: string, before: readonly JournalEvent[], draft: Draft): JournalEvent {
	const seq = before.length;
	const stamp = { at: new Date(begin + seq * 1000).toISOString().replace('Z', '+00:00'), mono: seq * 1000, boot: 'b1' };
	return seal(draft, before[seq - 1] ?? beforeGenesis(run), stamp, hand);
}

/** A sound journal of `count` events: the genesis, then steps and notes in turn. */
export function sampleJournal(run: string, count: number, words = 'µm, “quoted”, ok'): JournalEvent[] {
	const events: JournalEvent[] = [];
	while (events.length < count) {
		const n = events.length;
		const draft: Draft = n === 0 ? begun : n % 2 ? { kind: 'stepEntered', data: { step: `one/${n}` } } : { kind: 'note', data: { text: `${words} ${n}` } };
		events.push(sealNext(run, events, draft));
	}
	return events;
}
