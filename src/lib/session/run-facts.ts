import type { RunListing } from '$lib/ports/journal-store';
import type { RunFacts } from '$lib/run/run-facts';
import type { Device } from './device.svelte';

/** Facts of every run on this device, and the runs of which none could be read. */
export interface FactsRead {
	readonly facts: readonly RunFacts[];
	readonly unreadable: readonly RunListing[];
}

/** What is kept between visits to the page, so that each journal is read but once. */
interface Kept {
	/** Raised whenever facts are drawn otherwise than before. */
	readonly version: number;
	readonly runs: Readonly<Record<string, { readonly count: number; readonly facts: RunFacts | null }>>;
}

const KEY = 'run-facts';
const VERSION = 2;

/**
 * Reads the facts of all runs, one after another. Journals are read as bytes, without taking their lock, and worked through away from
 * the page's thread: a run that is being walked is never kept waiting. `told` hears how far it is; the run `skip` is not read.
 */
export async function readRunFacts({ store, settings, timekeeper }: Pick<Device, 'store' | 'settings' | 'timekeeper'>, { skip, told = () => {} }: { readonly skip?: string; readonly told?: (place: number, of: number) => void } = {}): Promise<FactsRead> {
	const found = await settings.load<Kept>(KEY);
	const before = found?.version === VERSION ? found.runs : {};
	const listed = await store.list();
	const runs: Record<string, Kept['runs'][string]> = {};
	const unreadable: RunListing[] = [];
	let news = Object.keys(before).some((run) => !listed.some((listing) => listing.run === run));
	for (const [index, listing] of listed.entries()) {
		const { run, count } = listing;
		const known = before[run];
		if (known && (known.count === count || run === skip)) runs[run] = known;
		else if (run !== skip)
			try {
				runs[run] = { count, facts: await timekeeper.factsOf(await store.bytes(run)) };
				news = true;
			} catch {
				// told through `unreadable`: one journal that cannot be read must not hide the others
				unreadable.push(listing);
			}
		told(index + 1, listed.length);
	}
	if (news) await settings.save(KEY, { version: VERSION, runs } satisfies Kept);
	return { facts: Object.values(runs).flatMap(({ facts }) => facts ?? []), unreadable };
}
