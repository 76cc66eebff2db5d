/**
 * What speaks for a step's still coming, as numbers: from training runs of the procedure and from the steps of this run so far, never from
 * its future. All shares are smoothed by half a run on either side and taken as log odds.
 */
import type { OrderCounts } from './order-counts';

export interface Candidate {
	readonly key: string;
	readonly features: readonly number[];
}

const logOdds = (share: number): number => Math.log(share / (1 - share));
const shareOf = (odds: number): number => 1 / (1 + Math.exp(-odds));
const mean = (values: readonly number[]): number =>
	values.length === 0 ? 0 : values.reduce((a, b) => a + b, 0) / values.length;

/** A step that occurs in more than this share of runs is usual. */
const USUAL = 0.6;
/** A usual step that comes this seldom after some step already done has probably been left out. */
const PASSED_LOG_ODDS = logOdds(0.25);
/** How fast a training run loses weight as its steps before this point differ from those done now (share in common, 0 to 1). */
const LIKENESS = 6;

/**
 * The steps of the procedure neither done nor running, each with: how often it occurs; how often it follows the running step, at worst
 * any step so far, the last three, and the worst three; how many other usual steps were passed by; the share of the way; how many unusual
 * steps were done; whether it is a repetition; how often it came later in runs that had gone like this one; and four products.
 */
export function candidates(
	counts: OrderCounts,
	doneKeys: readonly string[],
	runningKey: string,
	isRepeat: (key: string) => boolean
): Candidate[] {
	const soFar = [...doneKeys, runningKey].flatMap((key) => counts.index(key) ?? []);
	const past = new Set(soFar);
	const runningKnown = counts.index(runningKey) !== undefined;
	const share = (doneKeys.length + 1) / Math.max(1, counts.meanSteps);
	const unusualDone = soFar.filter((step) => counts.occurrencesOf(step) <= USUAL * counts.runCount).length;
	const alike = alikeRuns(counts, doneKeys, runningKey);
	const open = counts.keys.flatMap((key, step) => {
		if (past.has(step) || counts.occurrencesOf(step) <= 0) return [];
		const occurs = (counts.occurrencesOf(step) + 0.5) / (counts.runCount + 1);
		const follows = soFar.map((earlier) => {
			const after = counts.followed(earlier, step);
			return logOdds((after + 0.5) / (after + counts.followed(step, earlier) + 1));
		});
		const worst = [...follows].sort((a, b) => a - b);
		return [{ key, step, occurs, follows, worst, passed: occurs > USUAL && (worst[0] ?? 1) < PASSED_LOG_ODDS }];
	});
	const passed = open.filter((each) => each.passed).length;
	return open.map(({ key, occurs, follows, worst, passed: isPassed }) => {
		const often = logOdds(occurs);
		const latest = runningKnown ? (follows[follows.length - 1] ?? 0) : 0;
		const least = worst[0] ?? 3;
		const otherPassed = passed - (isPassed ? 1 : 0);
		const inAlike = laterInAlike(alike, key);
		const odds = [often, latest, least, mean(follows.slice(-3)), mean(worst.slice(0, 3)), inAlike];
		const features = [
			...odds,
			...odds.map(shareOf),
			otherPassed,
			share,
			unusualDone,
			isRepeat(key) ? 1 : 0,
			often * least,
			often * latest,
			often * otherPassed,
			least * share,
			least * least,
			least * inAlike,
			inAlike * inAlike
		];
		return { key, features };
	});
}

interface AlikeRun {
	readonly weight: number;
	readonly place: number;
	readonly places: ReadonlyMap<string, number>;
}

/** Training runs that came to the running step too, weighted by the share of steps before it that both have (Jaccard). */
function alikeRuns(counts: OrderCounts, doneKeys: readonly string[], runningKey: string): AlikeRun[] {
	return counts.runs().flatMap(({ places, keys }) => {
		const place = places.get(runningKey);
		if (place === undefined) return [];
		const before = new Set(keys.slice(0, place));
		const common = doneKeys.filter((key) => before.has(key)).length;
		const either = before.size + doneKeys.length - common;
		return [{ weight: Math.exp(LIKENESS * ((common + 1) / (either + 1))), place, places }];
	});
}

function laterInAlike(runs: readonly AlikeRun[], key: string): number {
	const smoothing = 0.5 * Math.exp(LIKENESS);
	let later = 0.5 * smoothing;
	let all = smoothing;
	for (const { weight, place, places } of runs) {
		all += weight;
		if ((places.get(key) ?? -1) > place) later += weight;
	}
	return logOdds(later / all);
}
