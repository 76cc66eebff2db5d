import type { Head } from '$lib/record/chain';
import { checkEvent } from '$lib/record/read-journal';
import type { JournalEvent } from '$lib/run/events';
import { StoreFault } from './store-fault';

/** Throws StoreFault `not next` unless the events follow the head one after another. Content hashes are not computed anew. */
export function expectNext(head: Head, events: readonly JournalEvent[]): void {
	let { seq, hash } = head;
	for (const event of events) {
		if (event.run !== head.run) throw new StoreFault('not next', `event ${event.seq} belongs to run ${event.run}; expected run ${head.run}`);
		if (event.seq !== seq + 1) throw new StoreFault('not next', `event ${event.seq} was to be written; expected event ${seq + 1}`);
		if (event.prev !== hash) throw new StoreFault('not next', `event ${event.seq} does not name the hash of event ${seq}`);
		if (seq < 0 && event.kind !== 'begun') throw new StoreFault('not next', `the first event is "${event.kind}"; expected "begun"`);
		({ seq, hash } = event);
	}
}

/** Throws StoreFault `damaged` unless the events are a sound journal from event 0 on. */
export function expectSound(events: readonly JournalEvent[]): void {
	if (!events.length) throw new StoreFault('damaged', 'the journal is empty; expected event 0');
	events.forEach((event, i) => {
		const reason = checkEvent(event, events[i - 1]);
		if (reason) throw new StoreFault('damaged', `at event ${i}: ${reason}`);
	});
}

/**
 * What of `brought` is new beside what is `here`. Throws `another chain` where they part.
 * One hash suffices: equal hashes at the shorter one's end mean equal chains before it.
 */
export function newPart(here: readonly JournalEvent[], brought: readonly JournalEvent[]): readonly JournalEvent[] {
	const last = Math.min(here.length, brought.length) - 1;
	if (last >= 0 && here[last]!.hash !== brought[last]!.hash)
		throw new StoreFault('another chain', `run ${brought[0]!.run} is here with another chain; nothing was changed`);
	return brought.slice(here.length);
}
