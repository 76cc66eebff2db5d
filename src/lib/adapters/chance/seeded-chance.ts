import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { Chance } from '$lib/ports/chance';

/** Ids from a seed, for tests and demo data: the same seed gives the same ids. */
export function seededChance(seed: number): Chance {
	const generator = xoroshiro128plus(seed);
	return {
		id: () => Array.from({ length: 32 }, () => uniformInt(generator, 0, 15).toString(16)).join('')
	};
}
