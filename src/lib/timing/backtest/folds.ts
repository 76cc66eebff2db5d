/** Splits runs into folds by a seeded shuffle. */
import { seededDraws } from '../draws';

/** The fold (0 … folds−1) of each run: Fisher–Yates shuffle of the positions, then dealt round, so that sizes differ by one at most. */
export function foldOfEach(count: number, folds: number, seed: number): number[] {
	const draws = seededDraws(seed);
	const order = Array.from({ length: count }, (_, index) => index);
	for (let last = count - 1; last > 0; last--) {
		const chosen = Math.floor(draws.uniform() * (last + 1));
		[order[last], order[chosen]] = [order[chosen] as number, order[last] as number];
	}
	const fold = new Array<number>(count).fill(0);
	order.forEach((run, place) => (fold[run] = place % folds));
	return fold;
}
