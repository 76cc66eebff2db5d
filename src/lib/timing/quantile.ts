/** Sample quantiles. */

/** Quantile of an ascending sample, linear between order statistics: type 7 of R. J. Hyndman, Y. Fan, The American Statistician 50 (1996). */
export function quantileOfSorted(sorted: ArrayLike<number>, p: number): number {
	if (sorted.length === 0) throw new RangeError('quantile: expected at least one value');
	const place = (sorted.length - 1) * p;
	const low = Math.floor(place);
	const below = sorted[low] as number;
	const above = sorted[Math.min(low + 1, sorted.length - 1)] as number;
	return below + (place - low) * (above - below);
}
