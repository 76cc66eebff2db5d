/** Shares with 95 % intervals over speakers, and upper bounds of rates. */
import { chanceFrom } from '../random';

export interface Share {
	readonly share: number;
	readonly low: number;
	readonly high: number;
	readonly n: number;
	readonly speakers: number;
}

const ROUNDS = 2000;

/** Resamples whole speakers (cluster bootstrap: A. Davison, D. Hinkley, "Bootstrap methods and their application", 1997, 3.8). */
export function shareOver(results: readonly { readonly speaker: string; readonly right: boolean }[]): Share {
	const bySpeaker = new Map<string, { right: number; n: number }>();
	for (const { speaker, right } of results) {
		const one = bySpeaker.get(speaker) ?? { right: 0, n: 0 };
		bySpeaker.set(speaker, { right: one.right + (right ? 1 : 0), n: one.n + 1 });
	}
	const groups = [...bySpeaker.values()];
	const shareOf = (some: readonly { right: number; n: number }[]) => some.reduce((a, g) => a + g.right, 0) / some.reduce((a, g) => a + g.n, 0);
	const chance = chanceFrom('interval', results.length, groups.length);
	const drawn = Array.from({ length: ROUNDS }, () => shareOf(groups.map(() => chance.pick(groups)))).sort((a, b) => a - b);
	const share = shareOf(groups);
	const [low, high] = [drawn[Math.floor(ROUNDS * 0.025)]!, drawn[Math.floor(ROUNDS * 0.975)]!];
	// with nothing wrong, or nothing right, resampling shows no spread: the rule of three over speakers bounds it
	const n = groups.length;
	return { share, low: share === 1 ? 1 - 3 / Math.max(3, n) : low, high: share === 0 ? 3 / Math.max(3, n) : high, n: results.length, speakers: n };
}

/** Upper end of the exact 95 % interval (two-sided) of a Poisson count, by bisection (F. Garwood, Biometrika 28, 1936). */
export function mostOf(count: number): number {
	const below = (mean: number) => {
		let [term, sum] = [Math.exp(-mean), 0];
		for (let k = 0; k <= count; k++) {
			sum += term;
			term *= mean / (k + 1);
		}
		return sum;
	};
	let [low, high] = [0, count * 3 + 20];
	for (let i = 0; i < 100; i++) {
		const middle = (low + high) / 2;
		if (below(middle) > 0.025) low = middle;
		else high = middle;
	}
	return high;
}
