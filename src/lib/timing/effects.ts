/**
 * Log-normal durations with shrunk effects:
 *   ln T = usual(step) + loading(step)·(operator + habit(operator, group) + pace of the run) + own way(operator, step) + ε,
 * ε ~ N(0, spread(step)²), usual ~ N(level + prior(step), priorSd²), operator ~ N(0, operatorSd²), habit ~ N(0, operatorGroupSd²),
 * pace ~ N(0, runSd²), own way ~ N(0, operatorStepSd²).
 * Fitted by a fixed number of sweeps, each setting one kind of effect to its posterior mean given the others (backfitting of a linear mixed
 * model: G. K. Robinson, That BLUP is a good thing, Statistical Science 6 (1991) 15–32), residuals clipped, censored durations replaced by
 * their expectation E[y | y > c] = m + s·φ(z)/(1−Φ(z)), z = (c−m)/s. Cost of a fit: sweeps × observations.
 */
import type { EffectsSettings } from './effects-settings';
import { normalDensity, normalTail } from './normal';

export interface Observation {
	/** Index into the priors. */
	readonly step: number;
	readonly operator: string;
	/** Index of the run, from 0 without gaps. */
	readonly run: number;
	readonly durationMs: number;
	readonly censored?: boolean;
}

export interface StepPrior {
	/** ln of the planned duration in ms; 0 where levels come from the runs alone. */
	readonly logMs: number;
	/** Steps of one group share a level (a procedure). */
	readonly group: number;
}

/** Law of ln T given the pace: mean `mu + loading·pace`, variance `variance` (of the visit and of what is not known about the step). */
export interface StepLaw {
	readonly mu: number;
	readonly loading: number;
	readonly variance: number;
}

export interface Pace {
	readonly mean: number;
	readonly variance: number;
}

interface StepState {
	usual: number;
	spread2: number;
	loading: number;
	readonly seen: number[];
	readonly ownWays: Map<string, { count: number; effect: number }>;
}

const SWEEPS = 4;

const habitKey = (operator: string, group: number): string => `${group} ${operator}`;

const clip = (residual: number, limit: number): number => Math.max(-limit, Math.min(limit, residual));

export class Effects {
	private readonly steps: StepState[];
	private readonly levels: { effect: number; variance: number; known: boolean }[];
	private readonly operators = new Map<string, Pace>();
	/** By operator and group: how many runs, and the sum of their paces. */
	private readonly habits = new Map<string, { runs: number; sum: number }>();
	private readonly paces: Float64Array;
	private readonly logs: Float64Array;
	private stepVariance: number;

	constructor(
		private readonly observations: readonly Observation[],
		private readonly priors: readonly StepPrior[],
		private readonly settings: EffectsSettings
	) {
		this.stepVariance = settings.stepSd ** 2;
		this.logs = Float64Array.from(observations, (each) => this.log(each.durationMs));
		this.paces = new Float64Array(observations.reduce((most, each) => Math.max(most, each.run + 1), 0));
		this.steps = priors.map(() => ({ usual: 0, spread2: this.stepVariance, loading: 1, seen: [], ownWays: new Map() }));
		observations.forEach((each, index) => this.steps[each.step]?.seen.push(index));
		const groups = priors.reduce((most, prior) => Math.max(most, prior.group + 1), 0);
		this.levels = Array.from({ length: groups }, () => ({ effect: 0, variance: 0, known: false }));
		this.fit();
	}

	/** ln of a duration as the model sees it. */
	log(durationMs: number): number {
		return Math.log(Math.max(durationMs, this.settings.shortestMs));
	}

	/** Law of a step for an operator. For a step without history its prior, with all that is not known about it. */
	law(step: number, operator: string): StepLaw {
		const state = this.steps[step] as StepState;
		const { priorSd, operatorStepSd } = this.settings;
		const own = state.ownWays.get(operator);
		const unknownUsual = 1 / (state.seen.length / state.spread2 + 1 / priorSd ** 2);
		const unknownOwn = 1 / ((own?.count ?? 0) / state.spread2 + 1 / operatorStepSd ** 2);
		return {
			mu: state.usual + (own?.effect ?? 0),
			loading: state.loading,
			variance: state.spread2 + unknownUsual + unknownOwn
		};
	}

	/** Law of a step that is not in the procedure as known: level of its group, with a wide spread. */
	strangerLaw(group: number): StepLaw {
		return {
			mu: this.levels[group]?.effect ?? this.meanLevel(),
			loading: 1,
			variance: this.stepVariance + 2 * this.settings.priorSd ** 2
		};
	}

	/** Pace to expect of the operator's next run of a group's procedure, before its first step. */
	paceOf(operator: string, group: number): Pace {
		const { operatorSd, operatorGroupSd, runSd } = this.settings;
		const known = this.operators.get(operator) ?? { mean: 0, variance: operatorSd ** 2 };
		const { runs, sum } = this.habits.get(habitKey(operator, group)) ?? { runs: 0, sum: 0 };
		const habitVariance = operatorGroupSd > 0 ? 1 / (1 / operatorGroupSd ** 2 + runs / runSd ** 2) : 0;
		return {
			mean: known.mean + (habitVariance * sum) / runSd ** 2,
			variance: known.variance + habitVariance + runSd ** 2 + (this.levels[group]?.variance ?? 0)
		};
	}

	/**
	 * Pace given the steps done: a normal update a step, one after another, so that a residual is clipped at what could be expected by then
	 * (R. E. Kalman 1960; the clipping is ours). `laws[i]` belongs to `durationsMs[i]`.
	 */
	paceAfter(before: Pace, laws: readonly StepLaw[], durationsMs: readonly number[]): Pace {
		let { mean, variance } = before;
		laws.forEach(({ mu, loading, variance: spread2 }, index) => {
			const expected2 = loading ** 2 * variance + spread2;
			const residual = this.log(durationsMs[index] as number) - mu - loading * mean;
			const gain = (loading * variance) / expected2;
			mean += gain * clip(residual, this.settings.clipSds * Math.sqrt(expected2));
			variance *= 1 - gain * loading;
		});
		return { mean, variance };
	}

	private fit(): void {
		this.startFromMedians();
		for (let sweep = 0; sweep < SWEEPS; sweep++) {
			this.fillCensored();
			this.fitLevels();
			this.fitSteps();
			this.fitPaces();
			this.fitOwnWays();
		}
		this.fitHabits();
		this.fitLoadings();
	}

	private startFromMedians(): void {
		this.steps.forEach((state, index) => {
			const sorted = state.seen.map((seen) => this.logs[seen] as number).sort((a, b) => a - b);
			state.usual = sorted[sorted.length >> 1] ?? (this.priors[index] as StepPrior).logMs;
		});
	}

	private shared(index: number): number {
		const { operator, run } = this.observations[index] as Observation;
		return (this.operators.get(operator)?.mean ?? 0) + (this.paces[run] as number);
	}

	private expected(index: number): number {
		const { step, operator } = this.observations[index] as Observation;
		const state = this.steps[step] as StepState;
		return state.usual + state.loading * this.shared(index) + (state.ownWays.get(operator)?.effect ?? 0);
	}

	private fillCensored(): void {
		this.observations.forEach((each, index) => {
			if (!each.censored) return;
			const spread = Math.sqrt((this.steps[each.step] as StepState).spread2);
			const mean = this.expected(index);
			const z = (this.log(each.durationMs) - mean) / spread;
			// beyond 8 standard deviations the hazard is z to within 2 %
			this.logs[index] = mean + spread * (z > 8 ? z : normalDensity(z) / normalTail(z));
		});
	}

	/** A group's level: mean of its steps' usual times over their priors, shrunk to 0 by levelSd. Steps without history do not count. */
	private fitLevels(): void {
		const { levelSd, priorSd } = this.settings;
		this.levels.forEach((level, group) => {
			let precision = 1 / levelSd ** 2;
			let pull = 0;
			this.steps.forEach((state, index) => {
				const prior = this.priors[index] as StepPrior;
				if (prior.group !== group || state.seen.length === 0) return;
				const weight = 1 / (priorSd ** 2 + state.spread2 / state.seen.length);
				precision += weight;
				pull += weight * (state.usual - prior.logMs);
			});
			level.known = precision > 0;
			level.effect = level.known ? pull / precision : 0;
			// without a plan the level only serves steps never seen, whose own prior is wide already
			level.variance = Number.isFinite(levelSd) && precision > 0 ? 1 / precision : 0;
		});
		for (const level of this.levels) if (!level.known) level.effect = this.meanLevel();
	}

	private meanLevel(): number {
		const known = this.levels.filter((level) => level.known);
		return known.length === 0 ? 0 : known.reduce((sum, level) => sum + level.effect, 0) / known.length;
	}

	private fitSteps(): void {
		const { priorSd, clipSds, ownSpreadWeight, stepSd, stepSdWeight } = this.settings;
		const cap = 1.2 * clipSds * Math.sqrt(this.stepVariance);
		let squares = stepSdWeight * stepSd ** 2;
		let freedom = stepSdWeight;
		this.steps.forEach((state, index) => {
			const prior = this.priors[index] as StepPrior;
			const centre = (this.levels[prior.group]?.effect ?? 0) + prior.logMs;
			const count = state.seen.length;
			const limit = clipSds * Math.sqrt(state.spread2);
			let pull = 0;
			for (const seen of state.seen) pull += clip((this.logs[seen] as number) - this.expected(seen), limit);
			const weight = state.spread2 / priorSd ** 2;
			state.usual = (count * state.usual + pull + weight * centre) / (count + weight);
			let own = 0;
			for (const seen of state.seen)
				own += Math.min(Math.abs((this.logs[seen] as number) - this.expected(seen)), cap) ** 2;
			if (count > 1) own *= count / (count - 0.8);
			squares += own;
			freedom += count > 1 ? count : count * 0.2;
			state.spread2 = (own + ownSpreadWeight * this.stepVariance) / (count + ownSpreadWeight);
		});
		this.stepVariance = squares / freedom;
	}

	private fitPaces(): void {
		const { runSd, operatorSd, clipSds } = this.settings;
		const precision = new Float64Array(this.paces.length);
		const pull = new Float64Array(this.paces.length);
		const operatorOf: string[] = [];
		this.observations.forEach(({ step, operator, run }, index) => {
			operatorOf[run] = operator;
			const state = this.steps[step] as StepState;
			if (state.seen.length < 2) return;
			const weight = 1 / (state.spread2 * (1 + 1 / state.seen.length));
			const residual = (this.logs[index] as number) - state.usual - (state.ownWays.get(operator)?.effect ?? 0);
			precision[run] = (precision[run] as number) + weight;
			pull[run] = (pull[run] as number) + weight * clip(residual, clipSds * Math.sqrt(state.spread2));
		});
		const sums = new Map<string, { weight: number; pull: number }>();
		this.paces.forEach((_, run) => {
			const ofRun = precision[run] as number;
			if (ofRun === 0) return;
			const operator = operatorOf[run] as string;
			const mean = (pull[run] as number) / ofRun;
			const weight = 1 / (runSd ** 2 + 1 / ofRun);
			const sum = sums.get(operator) ?? { weight: 0, pull: 0 };
			sums.set(operator, { weight: sum.weight + weight, pull: sum.pull + weight * mean });
			const usualPace = this.operators.get(operator)?.mean ?? 0;
			this.paces[run] = (ofRun * (mean - usualPace)) / (ofRun + 1 / runSd ** 2);
		});
		for (const [operator, sum] of sums) {
			const total = sum.weight + 1 / operatorSd ** 2;
			this.operators.set(operator, { mean: sum.pull / total, variance: 1 / total });
		}
	}

	private fitOwnWays(): void {
		const { operatorStepSd, clipSds } = this.settings;
		for (const state of this.steps) {
			const limit = clipSds * Math.sqrt(state.spread2);
			const sums = new Map<string, { count: number; pull: number }>();
			for (const seen of state.seen) {
				const { operator } = this.observations[seen] as Observation;
				const sum = sums.get(operator) ?? { count: 0, pull: 0 };
				const residual = (this.logs[seen] as number) - state.usual - state.loading * this.shared(seen);
				sums.set(operator, { count: sum.count + 1, pull: sum.pull + clip(residual, limit) });
			}
			for (const [operator, { count, pull }] of sums)
				state.ownWays.set(operator, { count, effect: pull / (count + state.spread2 / operatorStepSd ** 2) });
		}
	}

	/** What an operator's runs of one group's procedure have in common is still in their paces. */
	private fitHabits(): void {
		const met = new Set<number>();
		for (const { run, operator, step } of this.observations) {
			if (met.has(run)) continue;
			met.add(run);
			const key = habitKey(operator, (this.priors[step] as StepPrior).group);
			const { runs, sum } = this.habits.get(key) ?? { runs: 0, sum: 0 };
			this.habits.set(key, { runs: runs + 1, sum: sum + (this.paces[run] as number) });
		}
	}

	private fitLoadings(): void {
		const { loadingWeight, clipSds } = this.settings;
		for (const state of this.steps) {
			let above = loadingWeight;
			let below = loadingWeight;
			for (const seen of state.seen) {
				const { operator } = this.observations[seen] as Observation;
				const shared = this.shared(seen);
				const residual = (this.logs[seen] as number) - state.usual - (state.ownWays.get(operator)?.effect ?? 0);
				above += (shared * clip(residual, clipSds * Math.sqrt(state.spread2))) / state.spread2;
				below += shared ** 2 / state.spread2;
			}
			state.loading = Math.max(0, Math.min(2, above / below));
		}
	}
}
