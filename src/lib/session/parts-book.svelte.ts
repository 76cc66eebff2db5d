import { ledgerOf, type Ledger } from '$lib/metrology/ledger';
import { partHistory, type PartHistory } from '$lib/metrology/partHistory';
import { storedPositions, type Stored } from '$lib/metrology/storedPositions';
import type { JournalStore } from '$lib/ports/journal-store';
import type { Edition } from '$lib/procedure/edition';

/** The ledger of parts of this device, read from its journals one after another. */
export interface PartsBook {
	readonly histories: readonly PartHistory[];
	readonly ledger: Ledger;
	readonly stored: readonly Stored[];
	/** The newest run's edition: its words name the parts. Null while there is none. */
	readonly edition: Edition | null;
	/** The edition that a run walked: its words name what happened in it. Throws for a run that is not in the book. */
	editionOf(run: string): Edition;
	/** All of it is invented: there is no real run. */
	readonly invented: boolean;
	readonly done: number;
	readonly of: number;
	readonly state: 'reading' | 'read' | 'stopped';
	/** Journals that could not be read. */
	readonly faults: readonly { readonly begunAt: string; readonly reason: string }[];
	/** Ends the reading; what was read stays. */
	stop(): void;
}

/** Runs taken into the ledger at once while more are read. */
const AT_ONCE = 8;

/** Reads all journals of the store; real runs only, unless there are none but invented ones. */
export function createPartsBook(store: Pick<JournalStore, 'list' | 'open'>): PartsBook {
	let histories = $state.raw<readonly PartHistory[]>([]);
	let faults = $state.raw<PartsBook['faults']>([]);
	let [done, of] = $state([0, 0]);
	let state = $state<PartsBook['state']>('reading');
	const real = $derived(histories.filter(({ invented }) => !invented));
	const invented = $derived(real.length === 0 && histories.length > 0);
	const counted = $derived(invented ? histories : real);
	const ledger = $derived(ledgerOf(counted));
	const stored = $derived(storedPositions(counted));
	const newest = $derived(counted.reduce<PartHistory | null>((last, one) => (!last || Date.parse(one.begunAt) > Date.parse(last.begunAt) ? one : last), null));

	async function read(): Promise<void> {
		const listed = await store.list();
		const wanted = listed.some((run) => !run.invented) ? listed.filter((run) => !run.invented) : listed;
		of = wanted.length;
		const read: PartHistory[] = [];
		for (const { run, begunAt } of wanted) {
			if (state === 'stopped') break;
			try {
				const { events } = await store.open(run);
				const history = partHistory(events);
				if (history) read.push(history);
			} catch (thrown) {
				faults = [...faults, { begunAt, reason: thrown instanceof Error ? thrown.message : String(thrown) }];
			}
			done++;
			// the ledger is made anew each time: a few runs at once keep many from costing their square
			if (done % AT_ONCE === 0) histories = [...read];
		}
		histories = read;
		if (state === 'reading') state = 'read';
	}
	void read();

	return {
		get histories() {
			return counted;
		},
		get ledger() {
			return ledger;
		},
		get stored() {
			return stored;
		},
		get edition() {
			return newest?.edition ?? null;
		},
		editionOf(run) {
			const found = counted.find((history) => history.run === run);
			if (!found) throw new Error(`run ${run} is not in the book of parts`);
			return found.edition;
		},
		get invented() {
			return invented;
		},
		get done() {
			return done;
		},
		get of() {
			return of;
		},
		get state() {
			return state;
		},
		get faults() {
			return faults;
		},
		stop() {
			if (state === 'reading') state = 'stopped';
		}
	};
}
