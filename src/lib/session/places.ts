import type { KnownPlaces } from '$lib/metrology/returns';
import type { Stored } from '$lib/metrology/storedPositions';
import type { JournalStore } from '$lib/ports/journal-store';
import type { JournalEvent } from '$lib/run/events';
import type { RunState } from '$lib/run/state';

/**
 * Where stored places are expected in a run: as stored earlier in it, else where earlier visits on this device let expect them. Past
 * journals are read once, and only where a step asks for a stage position; until they are read, nothing is known.
 */
export function createPlaces(
	run: string,
	store: Pick<JournalStore, 'list' | 'open'>,
	toleranceM: () => number | null
): (walk: { readonly state: RunState; readonly events: readonly JournalEvent[] }) => KnownPlaces | undefined {
	let known: ((events: readonly JournalEvent[], toleranceM: number) => KnownPlaces) | null = null;
	let asked = false;

	async function read(): Promise<void> {
		// the walk does without this code until a position is asked for
		const [{ partHistory }, { driftOf, storedPositions }] = await Promise.all([import('$lib/metrology/partHistory'), import('$lib/metrology/storedPositions')]);
		const past = [];
		for (const { run: other, invented } of await store.list()) {
			if (other === run || invented) continue;
			const history = partHistory((await store.open(other)).events);
			if (history) past.push(history);
		}
		const stored = storedPositions(past);
		const byDrift = Object.fromEntries(
			[...new Set(stored.map(({ place }) => place))].flatMap((place) => {
				const { expected } = driftOf(place, stored);
				return expected ? [[place, expected] as const] : [];
			})
		);
		known = (events, toleranceM) => {
			const own = partHistory(events);
			const here: readonly Stored[] = own ? storedPositions([own]) : [];
			return { toleranceM, expected: { ...byDrift, ...Object.fromEntries(here.map((each) => [each.place, each])) } };
		};
	}

	return ({ state, events }) => {
		const tolerance = toleranceM();
		const wants = state.edition.steps[state.step]?.readings.some(({ id }) => id.startsWith('stage-')) ?? false;
		if (tolerance === null || !wants) return undefined;
		if (!asked) {
			asked = true;
			// where a journal can't be read now, the next reading tries again
			read().catch(() => (asked = false));
		}
		return known?.(events, tolerance);
	};
}
