/** Seeded draws: the same seed gives the same numbers on every machine. */
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { normalQuantile } from './normal';

export interface Draws {
	/** Uniform on the open interval (0, 1). */
	uniform(): number;
	/** Standard normal, by inversion (AS 241). */
	normal(): number;
}

/** The generator's first numbers still show a small seed: the very first of seed 7 lies in the last millionth below 1. */
const WARM_UP = 64;

/** Draws of xoroshiro128+ (pure-rand), 32 bits each. */
export function seededDraws(seed: number): Draws {
	const generator = xoroshiro128plus(seed | 0);
	for (let skipped = 0; skipped < WARM_UP; skipped++) generator.next();
	const uniform = (): number => ((generator.next() >>> 0) + 0.5) / 4_294_967_296;
	return { uniform, normal: () => normalQuantile(uniform()) };
}
