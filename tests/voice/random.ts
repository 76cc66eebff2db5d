/** Seeded chance for training and bench: xoroshiro128+ from pure-rand, in the few forms that they need. */
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { createHash } from 'node:crypto';

export interface Chance {
	/** From 0 to 1, 1 excluded. */
	unit(): number;
	between(low: number, high: number): number;
	/** 0 to count − 1. */
	below(count: number): number;
	pick<T>(items: readonly T[]): T;
	/** Standard normal, by Box and Muller's transform (Annals of Mathematical Statistics 29, 1958). */
	normal(): number;
	shuffle<T>(items: readonly T[]): T[];
}

/** The same parts (a seed, a name, a number …) always give the same stream. */
export function chanceFrom(...parts: readonly (string | number)[]): Chance {
	const generator = xoroshiro128plus(createHash('sha256').update(parts.join('\u0000')).digest().readInt32LE(0));
	const unit = () => (generator.next() >>> 0) / 2 ** 32;
	const below = (count: number) => Math.floor(unit() * count);
	return {
		unit,
		below,
		between: (low, high) => low + (high - low) * unit(),
		pick: (items) => items[below(items.length)]!,
		normal: () => Math.sqrt(-2 * Math.log(1 - unit())) * Math.cos(2 * Math.PI * unit()),
		shuffle(items) {
			const out = [...items];
			for (let i = out.length - 1; i > 0; i--) {
				const j = below(i + 1);
				[out[i], out[j]] = [out[j]!, out[i]!];
			}
			return out;
		}
	};
}
