import type { SettingsStore } from '$lib/ports/settings';

/** What a run was warned of aloud, kept on this device: a page that is loaded again does not say it again. */
export interface Warned {
	/** Settled when what was kept has been read, or could not be. */
	readonly ready: Promise<void>;
	/** True the first time in the run. */
	first(about: string): boolean;
}

/** By run, the newest last. */
type Kept = Readonly<Record<string, readonly string[]>>;

const KEY = 'warned';
/** Runs that nobody goes back to need no memory. */
const RUNS_KEPT = 20;

/** Where the device keeps nothing, `onfault` hears why, and what was said is remembered as long as the page stands. */
export function createWarned(settings: SettingsStore, run: string, onfault: (thrown: unknown) => void): Warned {
	const told = new Set<string>();

	async function load(): Promise<void> {
		const kept = await settings.load<Kept>(KEY);
		for (const about of kept?.[run] ?? []) told.add(about);
	}

	async function save(): Promise<void> {
		const others = Object.entries((await settings.load<Kept>(KEY)) ?? {}).filter(([other]) => other !== run);
		await settings.save(KEY, Object.fromEntries([...others.slice(1 - RUNS_KEPT), [run, [...told]]]) satisfies Kept);
	}

	return {
		ready: load().catch(onfault),
		first(about) {
			if (told.has(about)) return false;
			told.add(about);
			void save().catch(onfault);
			return true;
		}
	};
}
