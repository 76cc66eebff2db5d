import type { RunListing } from '$lib/ports/journal-store';
import { found, isEmpty, type RunQuery, searchText, type SearchText } from '$lib/record/run-search';
import type { Device } from './device.svelte';

export interface FoundRun {
	readonly listing: RunListing;
	/** The line in which a word was found; null where the run is shown for another reason. */
	readonly where: string | null;
}

/** All runs of this device, searched. */
export interface RunHistory {
	readonly query: RunQuery;
	readonly runs: readonly FoundRun[];
	/** Journals that are being read for the search; null: none. */
	readonly reading: { readonly done: number; readonly of: number } | null;
	/** Journals that could not be read, so that nothing can be found in them. */
	readonly unread: readonly { readonly run: string; readonly reason: string }[];
	search(change: Partial<RunQuery>): Promise<void>;
	/** Stops reading; what was read can be found. */
	cancel(): void;
}

export function createRunHistory(device: Pick<Device, 'store' | 'runs'>): RunHistory {
	let query = $state.raw<RunQuery>({ words: '', from: '', to: '' });
	let read = $state.raw<Readonly<Record<string, { readonly count: number; readonly text: SearchText }>>>({});
	let unread = $state.raw<RunHistory['unread']>([]);
	let reading = $state.raw<RunHistory['reading']>(null);
	let stopped = false;

	const runs = $derived.by((): readonly FoundRun[] => {
		if (isEmpty(query)) return device.runs.map((listing) => ({ listing, where: null }));
		return device.runs.flatMap((listing) => {
			const text = read[listing.run]?.text ?? fromListing(listing);
			const hit = found(text, query);
			return hit ? [{ listing, where: hit.where }] : [];
		});
	});

	/** Reads what is not read yet or has grown since. One at a time: the screen stays alive, and typing goes on meanwhile. */
	async function look(): Promise<void> {
		const due = device.runs.filter(({ run, count }) => read[run]?.count !== count);
		if (!due.length || reading) return;
		stopped = false;
		const got = { ...read };
		const lost: { run: string; reason: string }[] = [];
		for (const [done, { run, count }] of due.entries()) {
			if (stopped) break;
			reading = { done, of: due.length };
			try {
				const { events, fault } = await device.store.open(run);
				got[run] = { count, text: searchText({ events: [...events], fault: fault && { ...fault, line: fault.seq + 1 } }) };
			} catch (thrown) {
				lost.push({ run, reason: thrown instanceof Error ? thrown.message : String(thrown) });
			}
			// shown in steps: a new list for each journal would cost as much as the search
			if (done % 20 === 19) read = { ...got };
		}
		read = got;
		unread = lost;
		reading = null;
	}

	return {
		get query() {
			return query;
		},
		get runs() {
			return runs;
		},
		get reading() {
			return reading;
		},
		get unread() {
			return unread;
		},
		async search(change) {
			query = { ...query, ...change };
			if (query.words.trim()) await look();
		},
		cancel: () => void (stopped = true)
	};
}

/** What is known of a run without opening it. */
const fromListing = ({ begunAt, title, person }: RunListing): SearchText => ({ date: begunAt.slice(0, 10), lines: [title, person] });
