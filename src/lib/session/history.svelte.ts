import type { Edition, Localised } from '$lib/procedure/edition';
import type { RunListing } from '$lib/ports/journal-store';
import type { RunFacts } from '$lib/run/run-facts';
import type { Device } from './device.svelte';
import { readRunFacts } from './run-facts';

/** Runs that were truly walked, or the invented ones: never mixed. */
export type World = 'walked' | 'invented';

export interface ProcedureHeld {
	readonly id: string;
	readonly title: string;
	readonly runs: number;
}

/** The runs of this device as the history and the people's page look at them: one procedure of one world at a time. */
export interface History {
	/** How far the reading is; null when it is done or was stopped. */
	readonly reading: { readonly place: number; readonly of: number } | null;
	/** Runs left unread when the reading was stopped. */
	readonly left: number;
	readonly fault: string | null;
	readonly unreadable: readonly RunListing[];
	readonly world: World;
	/** Both worlds are on this device, so that there is something to choose. */
	readonly bothWorlds: boolean;
	readonly procedures: readonly ProcedureHeld[];
	readonly procedure: string;
	/** Oldest first. */
	readonly runs: readonly RunFacts[];
	/** For the words of steps; null where this version of the app has no edition of the procedure. */
	readonly edition: Edition | null;
	/** Stops reading; what was read is shown. */
	stop(): void;
	/** Reads the runs that were left. */
	goOn(): void;
	look(world: World): void;
	choose(procedure: string): Promise<void>;
}

/** A text of a run's own edition in the screen's language, else in whichever it has. */
export const textOf = (localised: Localised, language = 'en'): string => localised[language] ?? Object.values(localised)[0] ?? '';

export function createHistory(device: Pick<Device, 'store' | 'settings' | 'timekeeper' | 'editions'>): History {
	let all = $state.raw<readonly RunFacts[]>([]);
	let reading = $state.raw<History['reading']>(null);
	let left = $state(0);
	let stopped = false;
	let fault = $state<string | null>(null);
	let unreadable = $state.raw<readonly RunListing[]>([]);
	let world = $state<World>('walked');
	let procedure = $state('');
	let edition = $state.raw<Edition | null>(null);

	const ofWorld = $derived(all.filter((run) => run.invented === (world === 'invented')));
	const runs = $derived(ofWorld.filter((run) => run.past.procedure === procedure));
	const procedures = $derived.by((): readonly ProcedureHeld[] => {
		const held: Record<string, ProcedureHeld> = {};
		for (const { past, title } of ofWorld) held[past.procedure] = { id: past.procedure, title: textOf(title), runs: (held[past.procedure]?.runs ?? 0) + 1 };
		return Object.values(held).sort((a, b) => b.runs - a.runs || a.title.localeCompare(b.title));
	});

	async function choose(id: string): Promise<void> {
		procedure = id;
		const known = await device.editions.list();
		edition = known.some((entry) => entry.id === id) ? await device.editions.load(id) : null;
	}

	async function look(next: World): Promise<void> {
		world = next;
		await choose(procedures[0]?.id ?? '');
	}

	async function read(): Promise<void> {
		stopped = false;
		reading = { place: 0, of: 0 };
		const found = await readRunFacts(device, { told: (place, of) => (reading = { place, of }), stopped: () => stopped });
		all = found.facts.toSorted((a, b) => a.past.startedAtMs - b.past.startedAtMs);
		({ unreadable, left } = found);
		await look(all.some((run) => !run.invented) || all.length === 0 ? 'walked' : 'invented');
	}
	const told = (thrown: unknown) => (fault = thrown instanceof Error ? thrown.message : String(thrown));
	const begin = () =>
		void read()
			.catch(told)
			.finally(() => (reading = null));
	begin();

	return {
		get reading() {
			return reading;
		},
		get fault() {
			return fault;
		},
		get unreadable() {
			return unreadable;
		},
		get world() {
			return world;
		},
		get bothWorlds() {
			return all.some((run) => run.invented) && all.some((run) => !run.invented);
		},
		get procedures() {
			return procedures;
		},
		get procedure() {
			return procedure;
		},
		get runs() {
			return runs;
		},
		get edition() {
			return edition;
		},
		get left() {
			return left;
		},
		stop: () => (stopped = true),
		goOn: begin,
		look: (next) => void look(next).catch(told),
		choose
	};
}
