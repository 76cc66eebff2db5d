/**
 * How often a step of a procedure is walked at all, walked again, and struck by a trouble: counts of the history, shrunk to a prior that
 * weighs like a few visits. Incremental: a run adds its counts.
 */
import type { PastRun, PlannedProcedure, PlannedStep } from './port';

/** A step that must be walked: left out in 1 of 50 runs until the history says otherwise. Weights in runs. Assumptions, no source. */
const REQUIRED = { share: 0.98, weight: 10 };
/** An optional one is planned to be walked: 9 of 10. */
const OPTIONAL = { share: 0.9, weight: 3 };
/** Loops and troubles a visit: 1 in 50 and 1 in 100 over all steps before there is history; weights in visits. */
const AGAIN = { share: 0.02, weight: 100 };
const TROUBLE = { share: 0.01, weight: 100 };
/** What all steps show weighs as this many visits of one step. */
const OWN_WEIGHT = 8;
/** Time of a trouble: median 4 min, spread 0.8 of its logarithm, weighing as 2 troubles. */
const TROUBLE_TIME = { mu: Math.log(240_000), sigma: 0.8, weight: 2 };

interface Counts {
	/** Runs that walked the step, or that walked a later one without it. */
	reached: number;
	walked: number;
	visits: number;
	again: number;
	troubles: number;
}

export class Chances {
	private readonly counts = new Map<string, Counts>();
	private readonly all = { visits: 0, again: 0, troubles: 0 };
	private readonly logTimes = { count: 0, sum: 0, squares: 0 };
	private readonly order: ReadonlyMap<string, number>;
	private readonly optionalStages: ReadonlySet<string>;

	constructor(private readonly procedure: PlannedProcedure) {
		this.order = new Map(procedure.steps.map((step, place) => [step.path, place]));
		this.optionalStages = new Set(procedure.stages.flatMap((stage) => (stage.optional ? [stage.id] : [])));
	}

	add(run: PastRun): void {
		const walked = new Set<string>();
		let farthest = -1;
		for (const { path, visit } of run.steps) {
			const counts = this.countsOf(path);
			counts.visits += 1;
			this.all.visits += 1;
			if (visit > 1) {
				counts.again += 1;
				this.all.again += 1;
			}
			walked.add(path);
			farthest = Math.max(farthest, this.order.get(path) ?? -1);
		}
		// what lies beyond the farthest step of an aborted run was not left out, only not reached
		const end = run.outcome === 'complete' ? this.procedure.steps.length - 1 : farthest;
		this.procedure.steps.forEach(({ path }, place) => {
			if (place > end && !walked.has(path)) return;
			const counts = this.countsOf(path);
			counts.reached += 1;
			if (walked.has(path)) counts.walked += 1;
		});
		for (const trouble of run.troubles ?? []) {
			this.countsOf(trouble.path).troubles += 1;
			this.all.troubles += 1;
			const log = Math.log(Math.max(trouble.durationMs, 1000));
			this.logTimes.count += 1;
			this.logTimes.sum += log;
			this.logTimes.squares += log * log;
		}
	}

	/** Steps of an optional stage come or stay away together. */
	bundleOf(step: PlannedStep): string | undefined {
		return this.optionalStages.has(step.stage) ? step.stage : undefined;
	}

	/** Probability that a step ahead is walked; `begun`: its stage runs already, so that only the step's own option is open. */
	walked(step: PlannedStep, begun: boolean): number {
		const optional = step.optional || (!begun && this.optionalStages.has(step.stage));
		const prior = optional ? OPTIONAL : REQUIRED;
		const { reached, walked } = this.counts.get(step.path) ?? { reached: 0, walked: 0 };
		// a begun optional stage is no longer left out as a whole, so its absences say nothing of its steps
		if (begun && !step.optional) return REQUIRED.share;
		return (walked + prior.share * prior.weight) / (reached + prior.weight);
	}

	/** Chance that a visit is followed by another one. */
	again(path: string): number {
		const counts = this.counts.get(path);
		const usual = (this.all.again + AGAIN.share * AGAIN.weight) / (this.all.visits + AGAIN.weight);
		return Math.min(0.9, ((counts?.again ?? 0) + usual * OWN_WEIGHT) / ((counts?.visits ?? 0) + OWN_WEIGHT));
	}

	/** Chance of a trouble in a visit, and the log-normal law of the time that a trouble takes. */
	trouble(path: string): { chance: number; mu: number; sigma: number } {
		const counts = this.counts.get(path);
		const usual = (this.all.troubles + TROUBLE.share * TROUBLE.weight) / (this.all.visits + TROUBLE.weight);
		const chance = Math.min(0.9, ((counts?.troubles ?? 0) + usual * OWN_WEIGHT) / ((counts?.visits ?? 0) + OWN_WEIGHT));
		const { count, sum, squares } = this.logTimes;
		const { weight } = TROUBLE_TIME;
		const mu = (sum + weight * TROUBLE_TIME.mu) / (count + weight);
		const about =
			squares - 2 * mu * sum + count * mu * mu + weight * (TROUBLE_TIME.sigma ** 2 + (TROUBLE_TIME.mu - mu) ** 2);
		return { chance, mu, sigma: Math.sqrt(about / (count + weight)) };
	}

	private countsOf(path: string): Counts {
		const known = this.counts.get(path) ?? { reached: 0, walked: 0, visits: 0, again: 0, troubles: 0 };
		this.counts.set(path, known);
		return known;
	}
}
