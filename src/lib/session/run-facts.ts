import type { RunListing } from '$lib/ports/journal-store';
import type { RunFacts } from '$lib/run/run-facts';
import type { Device } from './device.svelte';

/** Facts of the runs on this device. */
export interface FactsRead {
	readonly facts: readonly RunFacts[];
	/** Runs of which none could be read. */
	readonly unreadable: readonly RunListing[];
	/** Runs not read, because the reading was stopped. */
	readonly left: number;
}

export interface HowToRead {
	/** A run that is not read. */
	readonly skip?: string;
	/** Hears how far the reading is. */
	readonly told?: (place: number, of: number) => void;
	/** Asked before each run; true ends the reading with what is there. */
	readonly stopped?: () => boolean;
}

/** What is kept of a run between visits to the page. Run by run: read or written all at once, the facts would hold the page up. */
interface Kept {
	/** Raised whenever facts are drawn otherwise than before. */
	readonly version: number;
	/** Of how many events the facts were drawn. */
	readonly count: number;
	/** Null for a run that never began. */
	readonly facts: RunFacts | null;
}

const VERSION = 3;
/** Names the runs of which facts are kept, so that those of runs that are gone can be forgotten. */
const KEY = 'run-facts';
const keyOf = (run: string): string => `${KEY} ${run}`;

/**
 * Reads the facts of all runs, one after another; each journal but once, since facts are kept. Journals are read as bytes, without taking
 * their lock, and worked through away from the page's thread: a run that is being walked is never kept waiting.
 */
export async function readRunFacts({ store, settings, timekeeper }: Pick<Device, 'store' | 'settings' | 'timekeeper'>, { skip, told = () => {}, stopped = () => false }: HowToRead = {}): Promise<FactsRead> {
	const listed = await store.list();
	await forgetGone(settings, listed);
	const facts: RunFacts[] = [];
	const unreadable: RunListing[] = [];

	async function factsOf({ run, count }: RunListing): Promise<RunFacts | null> {
		const kept = await settings.load<Kept>(keyOf(run));
		if (kept?.version === VERSION && kept.count === count) return kept.facts;
		const drawn = await timekeeper.factsOf(await store.bytes(run));
		await settings.save(keyOf(run), { version: VERSION, count, facts: drawn } satisfies Kept);
		return drawn;
	}

	let place = 0;
	for (const listing of listed) {
		if (stopped()) break;
		try {
			const found = listing.run === skip ? null : await factsOf(listing);
			if (found) facts.push(found);
		} catch {
			// told through `unreadable`: one journal that cannot be read must not hide the others
			unreadable.push(listing);
		}
		told(++place, listed.length);
	}
	return { facts, unreadable, left: listed.length - place };
}

async function forgetGone(settings: Device['settings'], listed: readonly RunListing[]): Promise<void> {
	const before = await settings.load<readonly string[]>(KEY);
	const now = listed.map(({ run }) => run);
	if (!Array.isArray(before) || before.length !== now.length || before.some((run) => !now.includes(run))) await settings.save(KEY, now);
	if (Array.isArray(before)) for (const run of before) if (!now.includes(run)) await settings.save(keyOf(run), undefined);
}
