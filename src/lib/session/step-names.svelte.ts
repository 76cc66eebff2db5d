import type { Editions } from '$lib/ports/editions';
import type { RunListing } from '$lib/ports/journal-store';
import { named, type Named } from './named';

/** Names of the steps that listed runs stand at; the step's path until its edition is read, or where this device lacks it. */
export function createStepNames(editions: Editions): (run: RunListing) => string {
	let known = $state.raw<Readonly<Record<string, Named>>>({});
	const asked: string[] = [];

	async function read(id: string): Promise<void> {
		const entry = (await editions.list()).find((listed) => listed.id === id);
		if (entry) known = { ...known, [id]: named(await editions.load(id), 'en') };
	}
	return ({ edition, step }) => {
		if (!asked.includes(edition)) {
			asked.push(edition);
			void read(edition);
		}
		return known[edition]?.step(step) ?? step;
	};
}
