import { JSDOM } from 'jsdom';
import { describe, expect, it } from 'vitest';
import { verifyEd25519 } from '$lib/adapters/signer/verify-ed25519';
import { noFiles } from '$lib/record/exporting';
import { FORMATS, type FormatId } from '$lib/record/formats';
import type { ReadJournal } from '$lib/record/read-journal';
import { lifecycleFault } from './lifecycle';
import { benchEdition } from '../simulation/bench-edition';
import { CheckedMap } from '../simulation/checked-map';
import { RandomWalk } from '../simulation/random-walk';

const WALKS = 40;

async function textOf(journal: ReadJournal, id: FormatId): Promise<string> {
	let text = '';
	for await (const chunk of FORMATS[id].write([journal], { files: noFiles, verify: verifyEd25519, paper: 'A4' })) text += typeof chunk === 'string' ? chunk : Buffer.from(chunk).toString('latin1');
	return text;
}

/** Troubles in troubles, steps back, holds, reloads, another device: whatever can happen in a run must be written by every format. */
describe('X4 random walks', () => {
	const edition = benchEdition();
	const map = new CheckedMap(edition);
	it(`every format writes ${WALKS} of them, and each instance of the event log keeps the lifecycle`, async () => {
		for (let seed = 1; seed <= WALKS; seed++) {
			const walk = new RandomWalk(seed, edition, map);
			walk.run(60);
			const journal = { events: walk.walk.events, fault: null };
			for (const id of Object.keys(FORMATS) as FormatId[]) expect((await textOf(journal, id)).length, `${id}, seed ${seed}`).toBeGreaterThan(200);
			const { document } = new JSDOM(await textOf(journal, 'xes'), { contentType: 'text/xml' }).window;
			const events = [...document.querySelectorAll('event')].map((event) => {
				const value = (key: string) => [...event.children].find((one) => one.getAttribute('key') === key)?.getAttribute('value') ?? '';
				return { instance: value('concept:instance'), transition: value('lifecycle:transition') };
			});
			expect(lifecycleFault(events), `seed ${seed}`).toBeNull();
		}
	}, 240_000);
});
