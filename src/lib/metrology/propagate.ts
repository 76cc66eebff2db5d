import { normalQuantile } from '$lib/timing/normal';

/**
 * Uncertainty of a result from the uncertainties of its inputs, taken as independent and normal.
 *
 * Where the result is smooth over the spread of its inputs: the symmetric cubature of degree 5 for the normal weight
 * (McNamee & Stenger, Numer. Math. 10 (1967) 327, from memory; used as the "fifth-order" unscented transform), which holds the
 * variance of anything up to second order exactly: 2n² + 1 evaluations. Elsewhere: an interval from draws.
 */

/** Results by name, or null where the computation refuses at that point. */
export type Evaluate = (at: readonly number[]) => readonly number[] | null;


/** Standard uncertainties of all results at `centre` with the inputs' standard uncertainties `sd` (same order, SI). */
export function propagate(evaluate: Evaluate, centre: readonly number[], sd: readonly number[]): readonly number[] | null {
	const noisy = sd.flatMap((s, index) => (s > 0 ? [index] : []));
	const middle = evaluate(centre);
	if (!middle) return null;
	const first = middle.map(() => 0);
	const second = middle.map(() => 0);
	const n = noisy.length;
	const reach = Math.sqrt(3);
	const add = (weight: number, steps: readonly [number, number][]): boolean => {
		const at = [...centre];
		for (const [index, sign] of steps) at[index] = centre[index]! + sign * reach * sd[index]!;
		const found = evaluate(at);
		if (!found) return false;
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
				for (const b of [1, -1]) if (!add(1 / 36, [[noisy[i]!, a], [noisy[j]!, b]])) return null;
	const variances = second.map((sum, k) => sum - first[k]! ** 2);
	return variances.every((variance) => variance >= 0 && Number.isFinite(variance)) ? variances.map(Math.sqrt) : null;
}

const primes = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59, 61, 67, 71, 73, 79, 83, 89, 97, 101, 103, 107, 109, 113];
/** Draws of one interval: enough that its ends sit within about ½ % of their probability, few enough for a millisecond. */
const drawCount = 2048;

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
	if (noisy.length > primes.length) throw new RangeError(`at most ${primes.length} uncertain inputs; got ${noisy.length}`);
	const spread = noisy.map((_, k) => evenlySpread(k));
	const drawn: Float64Array[] = [];
	let kept = 0;
	for (let i = 0; i < drawCount; i++) {
		const at = [...centre];
		for (let k = 0; k < noisy.length; k++) {
			const index = noisy[k]!;
			at[index] = centre[index]! + sd[index]! * spread[k]![i]!;
		}
		const found = evaluate(at);
		if (!found) continue;
		for (let k = 0; k < found.length; k++) (drawn[k] ??= new Float64Array(drawCount))[kept] = found[k]!;
		kept++;
	}
	if (kept < 0.99 * drawCount) return null;
	return drawn.map((values) => {
		const sorted = values.subarray(0, kept).sort();
		return [quantile(sorted, 0.025), quantile(sorted, 0.975)];
	});
}

/** Linear between order statistics (definition 7 of Hyndman & Fan, 1996, from memory). */
function quantile(sorted: Float64Array, p: number): number {
	const at = p * (sorted.length - 1);
	const low = Math.floor(at);
	const below = sorted[low]!;
	return below + (at - low) * ((sorted[low + 1] ?? below) - below);
}
