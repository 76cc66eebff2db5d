import { normalQuantile } from '$lib/timing/normal';

/**
 * Uncertainty of a result from the uncertainties of its inputs, taken as independent and normal.
 *
 * Where the result is smooth over the spread of its inputs: the symmetric cubature of degree 5 for the normal weight
 * (McNamee & Stenger, Numer. Math. 10 (1967) 327, from memory; used as the "fifth-order" unscented transform), which holds the
 * variance of anything up to second order exactly: 2n² + 1 evaluations. Elsewhere: an interval from draws.
 */

/** Writes the results at a point into `into`; false where the computation refuses there. Called thousands of times: allocates nothing. */
export type Evaluate = (at: readonly number[], into: number[]) => boolean;

/** Standard uncertainties of all results at `centre` with the inputs' standard uncertainties `sd` (same order, SI). */
export function propagate(
	evaluate: Evaluate,
	centre: readonly number[],
	sd: readonly number[]
): readonly number[] | null {
	const noisy = sd.flatMap((s, index) => (s > 0 ? [index] : []));
	const middle: number[] = [];
	if (!evaluate(centre, middle)) return null;
	const first = middle.map(() => 0);
	const second = middle.map(() => 0);
	const n = noisy.length;
	const reach = Math.sqrt(3);
	const found: number[] = [];
	const add = (weight: number, steps: readonly [number, number][]): boolean => {
		const at = [...centre];
		for (const [index, sign] of steps) at[index] = centre[index]! + sign * reach * sd[index]!;
		if (!evaluate(at, found)) return false;
		for (let k = 0; k < middle.length; k++) {
			const shift = found[k]! - middle[k]!;
			first[k]! += weight * shift;
			second[k]! += weight * shift * shift;
		}
		return true;
	};
	for (const index of noisy) for (const sign of [1, -1]) if (!add((4 - n) / 18, [[index, sign]])) return null;
	for (let i = 0; i < n; i++)
		for (let j = i + 1; j < n; j++)
			for (const a of [1, -1])
				for (const b of [1, -1])
					if (
						!add(1 / 36, [
							[noisy[i]!, a],
							[noisy[j]!, b]
						])
					)
						return null;
	const variances = second.map((sum, k) => sum - first[k]! ** 2);
	return variances.every((variance) => variance >= 0 && Number.isFinite(variance)) ? variances.map(Math.sqrt) : null;
}

const primes = [
	2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59, 61, 67, 71, 73, 79, 83, 89, 97, 101, 103, 107, 109,
	113
];
/** Draws of one interval: enough that it holds 95 % within about one and a half points, few enough for a millisecond (both measured in tests/bench). */
const drawCount = 1280;

const spreads: Float64Array[] = [];

/** Normal numbers of one uncertain input, made once: they are the same for every question. */
function evenlySpread(nth: number): Float64Array {
	const step = Math.sqrt(primes[nth]!) % 1;
	return (spreads[nth] ??= Float64Array.from({ length: drawCount }, (_, i) => {
		const p = ((i + 1) * step + 0.5) % 1;
		return normalQuantile(p === 0 ? 0.5 / drawCount : p);
	}));
}

/**
 * 95 % interval (2.5 to 97.5 %) of each result from evenly spread draws: Richtmyer's sequence frac(i·√prime), so nothing is
 * random and the same question has the same answer. Null where more than 1 % of the draws are refused: then the spread
 * reaches into where the computation does not work, and no interval would be honest.
 */
export function intervalsFromDraws(
	evaluate: Evaluate,
	centre: readonly number[],
	sd: readonly number[]
): readonly (readonly [number, number])[] | null {
	const noisy = sd.flatMap((s, index) => (s > 0 ? [index] : []));
	if (noisy.length > primes.length)
		throw new RangeError(`at most ${primes.length} uncertain inputs; got ${noisy.length}`);
	const inputs = noisy.map((index, k) => ({ index, from: centre[index]!, scale: sd[index]!, spread: evenlySpread(k) }));
	const at = [...centre];
	const found: number[] = [];
	if (!evaluate(centre, found)) return null;
	const drawn = found.map(() => new Float64Array(drawCount));
	let kept = 0;
	for (let i = 0; i < drawCount; i++) {
		for (const { index, from, scale, spread } of inputs) at[index] = from + scale * spread[i]!;
		if (!evaluate(at, found)) continue;
		for (let k = 0; k < drawn.length; k++) drawn[k]![kept] = found[k]!;
		kept++;
	}
	if (kept < 0.99 * drawCount) return null;
	return drawn.map((values) => {
		const low = quantile(values, kept, 0.025);
		return [low, quantile(values, kept, 0.975)];
	});
}

/** Quantile of the first `count` values, linear between order statistics (definition 7 of Hyndman & Fan, 1996, from memory). */
function quantile(values: Float64Array, count: number, p: number): number {
	const at = p * (count - 1);
	const rank = Math.floor(at);
	const below = select(values, count, rank);
	// after the selection everything behind `rank` is at least as large: the next order statistic is the least of it
	let above = Infinity;
	for (let i = rank + 1; i < count; i++) if (values[i]! < above) above = values[i]!;
	return rank + 1 < count ? below + (at - rank) * (above - below) : below;
}

/** Hoare's selection: puts the value of that rank in its place, smaller ones before it, larger ones behind it. Reorders `values`. */
function select(values: Float64Array, count: number, rank: number): number {
	let low = 0;
	let high = count - 1;
	while (low < high) {
		const pivot = values[(low + high) >> 1]!;
		let i = low;
		let j = high;
		while (i <= j) {
			while (values[i]! < pivot) i++;
			while (values[j]! > pivot) j--;
			if (i > j) break;
			const swapped = values[i]!;
			values[i++] = values[j]!;
			values[j--] = swapped;
		}
		if (rank <= j) high = j;
		else if (rank >= i) low = i;
		else break;
	}
	return values[rank]!;
}
