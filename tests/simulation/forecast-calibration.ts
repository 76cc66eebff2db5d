/** How often the truth lies where the forecast says, in the invented world: coverage of P10–P90 and probability of being done in time. */
import { createForecast } from '$lib/timing/forecast';
import { seededDraws } from '$lib/timing/draws';
import type { PlannedProcedure } from '$lib/timing/port';
import { asPastRun, createWorld, momentOf } from './forecast-world';

export interface Judged {
	/** Which world: queries of one world hang together. */
	readonly world: number;
	readonly ownRuns: number;
	readonly covered: boolean;
	readonly said: number;
	readonly fitted: boolean;
}

/**
 * In each world one person walks `ownRuns` visits (one in five is broken off somewhere) and then one more, in which the forecast is asked
 * at `asks` moments spread over the visit. The booking ends where the planned rest ends, times a drawn factor of median 1.2, so that
 * probabilities of all sizes are said.
 */
export function judge(
	procedure: PlannedProcedure,
	ownRuns: number,
	worlds: number,
	asks: number,
	seed: number
): Judged[] {
	const judged: Judged[] = [];
	for (let world = 0; world < worlds; world++) {
		const invented = createWorld(procedure, seed + world);
		const draws = seededDraws(seed + 100_000 + world);
		const history = Array.from({ length: ownRuns }, (_, index) =>
			asPastRun(procedure, invented.walk('a'), `${index}`, draws.uniform() < 0.2 ? 0.3 + 0.6 * draws.uniform() : 1)
		);
		const forecaster = createForecast(procedure, history);
		const run = invented.walk('a');
		for (let ask = 0; ask < asks; ask++) {
			const { now, leftMs } = momentOf(procedure, run, (ask + draws.uniform()) / asks, draws.uniform());
			const plannedMs = now.toCome.reduce((sum, step) => sum + (step.plannedMs ?? 0), 60_000);
			const bookingEndAtMs = plannedMs * 1.2 * Math.exp(0.35 * draws.normal());
			const told = forecaster.forecast({ ...now, bookingEndAtMs });
			judged.push({
				world,
				ownRuns,
				covered: told.run.p10Ms <= leftMs && leftMs <= told.run.p90Ms,
				said: told.fits as number,
				fitted: leftMs <= bookingEndAtMs
			});
		}
	}
	return judged;
}

export const coverageOf = (judged: readonly Judged[]): number =>
	judged.filter((each) => each.covered).length / judged.length;

/** Brier score (G. W. Brier, Monthly Weather Review 78 (1950) 1–3), and that of always saying the base rate. */
export function brier(judged: readonly Judged[]): { score: number; baseRate: number } {
	const rate = judged.filter((each) => each.fitted).length / judged.length;
	const mean = (said: (each: Judged) => number): number =>
		judged.reduce((sum, each) => sum + (said(each) - (each.fitted ? 1 : 0)) ** 2, 0) / judged.length;
	return { score: mean((each) => each.said), baseRate: mean(() => rate) };
}

export interface ReliabilityBin {
	readonly from: number;
	readonly count: number;
	readonly meanSaid: number;
	readonly happened: number;
}

/** Ten bins of the said probability: what was said, and how often it happened. */
export function reliability(judged: readonly Judged[]): ReliabilityBin[] {
	return Array.from({ length: 10 }, (_, bin) => {
		const inside = judged.filter((each) => Math.min(9, Math.floor(each.said * 10)) === bin);
		const mean = (of: (each: Judged) => number): number =>
			inside.length === 0 ? NaN : inside.reduce((sum, each) => sum + of(each), 0) / inside.length;
		return {
			from: bin / 10,
			count: inside.length,
			meanSaid: mean((each) => each.said),
			happened: mean((each) => (each.fitted ? 1 : 0))
		};
	});
}
