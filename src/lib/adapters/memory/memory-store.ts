import type { Beat, JournalStore, WriterLock } from '$lib/ports/journal-store';
import { beforeGenesis, lineOf } from '$lib/record/chain';
import type { JournalEvent } from '$lib/run/events';
import { localLocks } from '../locks/local-locks';
import { expectNext, expectSound, newPart } from '../next-in-chain';
import { listingOf, rowAfter, type RunRow } from '../run-row';
import { StoreFault } from '../store-fault';

/** A journal store in memory: for tests, and for a device that offers no storage at all (`copies` is empty, which the screen tells). */
export function memoryStore(): JournalStore {
	const journals = new Map<string, JournalEvent[]>();
	const rows = new Map<string, RunRow>();
	const attachments = new Map<string, { bytes: Uint8Array; type: string }>();
	const beats = new Map<string, Beat>();
	const keeper = localLocks();
	const writers = new Set<WriterLock>();
	const encoder = new TextEncoder();
	const bytesOf = (events: readonly JournalEvent[]) => encoder.encode(events.map((event) => lineOf(event) + '\n').join(''));

	function write(run: string, events: readonly JournalEvent[]): void {
		const here = journals.get(run) ?? [];
		expectNext(here[here.length - 1] ?? beforeGenesis(run), events);
		if (!events.length) return;
		rows.set(run, rowAfter(rows.get(run), events, (rows.get(run)?.bytes ?? 0) + bytesOf(events).length));
		journals.set(run, here.concat(events));
	}

	function known(run: string): readonly JournalEvent[] {
		const events = journals.get(run);
		if (!events) throw new StoreFault('unknown run', `no journal of run ${run} is on this device`);
		return events;
	}

	return {
		copies: [],
		list: async () => [...rows.values()].map(listingOf),
		open: async (run) => ({ events: known(run), mended: [], fault: null }),
		async lock(run) {
			const taken = await keeper.take(run);
			if (!taken) return null;
			const lock: WriterLock = {
				run,
				release() {
					writers.delete(lock);
					taken.release();
				}
			};
			writers.add(lock);
			return lock;
		},
		async append(run, events, lock) {
			if (lock.run !== run || !writers.has(lock)) throw new StoreFault('no lock', `run ${run} is written by someone else`);
			write(run, events);
		},
		bytes: async (run) => bytesOf(known(run)),
		async bring(events) {
			expectSound(events);
			const run = events[0]!.run;
			write(run, newPart(journals.get(run) ?? [], events));
		},
		async putAttachment(run, sha256, bytes, type) {
			attachments.set(`${run}/${sha256}`, { bytes: bytes.slice(), type });
		},
		attachment: async (run, sha256) => attachments.get(`${run}/${sha256}`) ?? null,
		async beat(run, beat) {
			beats.set(run, beat);
		},
		lastBeat: async (run) => beats.get(run) ?? null,
		async remove(run) {
			for (const map of [journals, rows, beats]) map.delete(run);
			for (const key of attachments.keys()) if (key.startsWith(`${run}/`)) attachments.delete(key);
		}
	};
}
