import { describe, expect, it } from 'vitest';
import { smallVisit } from '../fixtures/small-visit';
import { CheckedMap } from './checked-map';
import { RandomWalk } from './random-walk';
import { shipped } from './shipped';

const WALKS = 300;
/** Most walks are short and begin anywhere; every hundredth is long enough for a whole visit. */
const commandsOf = (seed: number): number => (seed % 100 === 0 ? 400 : 4 + (seed % 29));

describe('random walks', () => {
	const edition = shipped();
	const map = new CheckedMap(edition);

	it(`R1 R3 R7 R8 R9: ${WALKS} walks over the shipped visit reach only what the checker calls possible, and state rebuilt equals state kept`, { timeout: 600_000 }, () => {
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
	});

	it('the small visit of the checker, at length', () => {
		const small = smallVisit();
		const smallMap = new CheckedMap(small);
		for (let seed = 1; seed <= 300; seed++) new RandomWalk(seed, small, smallMap).run(120);
	});
});
