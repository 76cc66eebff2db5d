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

/**
 * The indices below `count` at which an event of this chance happens, rising: the gap to the next one is geometric,
 * ⌊ln u / ln(1 − chance)⌋ (L. Devroye, Non-Uniform Random Variate Generation (1986), ch. X.2), so that rare events cost little.
 */
export function* happenings(count: number, chance: number, draws: Draws): Generator<number> {
	if (chance <= 0) return;
	const scale = chance >= 1 ? -Infinity : Math.log1p(-chance);
	for (let at = gap(draws, scale); at < count; at += 1 + gap(draws, scale)) yield at;
}

const gap = (draws: Draws, scale: number): number => Math.floor(Math.log(draws.uniform()) / scale);
