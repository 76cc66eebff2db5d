import type { Edition } from '$lib/procedure/edition';
import type { Scenario } from '$lib/procedure/scenario';
import type { JournalEvent } from '$lib/run/events';
import { seededDraws } from '$lib/timing/draws';
import { type InventedVisit, inventedVisits } from './invented-visit';
export { offsetMinOf } from './invented-visit';
import { type PlayedClock, playVisit } from './play-visit';

/** What the world gives to the player: clocks that start at a visit's begin, and ids from a seed. */
export interface DemoWorld {
	clockAt(start: string, zone: string, boot: string): PlayedClock;
	ids(seed: number): { id(): string };
}

export interface DemoRun {
	readonly visit: InventedVisit;
	readonly events: readonly JournalEvent[];
	/** Place of this run among all, from 1. */
	readonly place: number;
	readonly of: number;
}

/**
 * The invented history of a scenario, oldest visit first: sealed journals from the real run engine, each marked as invented.
 * Same scenario and editions: the same bytes, however many runs are taken.
 */
export function* demoHistory(scenario: Scenario, editions: ReadonlyMap<string, Edition>, world: DemoWorld): Generator<DemoRun> {
	const visits = inventedVisits(scenario, seededDraws(scenario.seed));
	const ids = world.ids(scenario.seed);
	for (const [index, visit] of visits.entries()) {
		const edition = editions.get(visit.procedure);
		if (!edition) throw new Error(`the scenario wants the procedure ${visit.procedure}, which is not here`);
		const run = ids.id();
		const clock = world.clockAt(visit.start, scenario.zone, `${run.slice(0, 8)} (invented)`);
		const events = playVisit(visit, edition, scenario, run, clock, seededDraws(scenario.seed + 1 + index));
		yield { visit, events, place: index + 1, of: visits.length };
	}
}
