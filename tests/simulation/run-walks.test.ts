import { describe, expect, it } from 'vitest';
import { always, type Step } from '$lib/procedure/edition';
import { outcome } from '../fixtures/build-edition';
import { smallVisit, withStep } from '../fixtures/small-visit';
import { benchEdition } from './bench-edition';
import { CheckedMap } from './checked-map';
import { RandomWalk } from './random-walk';
import { shipped } from './shipped';

const WALKS = 10_000;
/** Most walks are short and begin anywhere; every hundredth is long enough for a whole visit. */
const commandsOf = (seed: number): number => (seed % 100 === 0 ? 400 : 2 + (seed % 17));

describe('random walks', () => {
	const edition = shipped();
	const map = new CheckedMap(edition);

	it(
		`R1 R3 R7 R8 R9: ${WALKS} walks over the shipped visit reach only what the checker calls possible, and state rebuilt equals state kept`,
		{ timeout: 600_000 },
		() => {
			const met = new Set<string>();
			const ends = { complete: 0, aborted: 0 };
			for (let seed = 1; seed <= WALKS; seed++) {
				const walk = new RandomWalk(seed, edition, map);
				const { status } = walk.run(commandsOf(seed));
				if (status === 'complete' || status === 'aborted') ends[status]++;
				for (const event of walk.walk.events) if (event.kind === 'stepEntered') met.add(event.data.step);
			}
			// a walk that goes nowhere proves nothing: nearly all steps were entered, and both ends were reached
			expect(met.size).toBeGreaterThan(0.95 * Object.keys(edition.steps).length);
			expect(ends.complete).toBeGreaterThan(0);
			expect(ends.aborted).toBeGreaterThan(100);
		}
	);

	it.each([
		['the small visit of the checker', smallVisit()],
		['a procedure with every kind of step, a final one and adjust loops', benchEdition()]
	])('%s, at length', (_, small) => {
		const smallMap = new CheckedMap(small);
		const ends = new Set<string>();
		for (let seed = 1; seed <= 300; seed++) ends.add(new RandomWalk(seed, small, smallMap).run(100).status);
		expect([...ends]).toEqual(expect.arrayContaining(['complete', 'aborted']));
	});

	it('finds a planted fault: a walk over an edition whose probe stays in is not what the checker reached', () => {
		const sound = smallVisit();
		const broken = smallVisit({
			steps: withStep('pick/withdraw', (step) => ({ ...step, outcomes: [outcome('done', {}, 'lift/go')] }))
		});
		const soundMap = new CheckedMap(sound);
		const loose = {
			...broken,
			steps: { ...broken.steps, 'lift/go': { ...(broken.steps['lift/go'] as Step), require: always } }
		};
		const walks = () => Array.from({ length: 50 }, (_, seed) => new RandomWalk(seed, loose, soundMap).run(60));
		expect(walks).toThrow(/which the checker calls impossible/);
	});
});
