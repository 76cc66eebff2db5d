/**
 * How much durations are taken to differ before the history says so, as standard deviations of ln duration. Values were chosen on the
 * public recipe runs (tests/bench/timing.bench.ts names the file), on folds within the training runs only. The pace of a run mattered most:
 * 0.12 and 0.3 made the mean error there 2.6 % and 1.4 % larger, halving or doubling any other that was tried less than 1 %.
 */
export interface EffectsSettings {
	/** Between operators, over all steps. */
	readonly operatorSd: number;
	/** Of one operator between groups of steps (procedures); 0 where there is but one. */
	readonly operatorGroupSd: number;
	/** Between runs of one operator: the pace of a day. */
	readonly runSd: number;
	/** An operator's own way with one step. */
	readonly operatorStepSd: number;
	/** Of one step about all that, before its own history; weighs as `ownSpreadWeight` visits against a step's own spread. */
	readonly stepSd: number;
	readonly ownSpreadWeight: number;
	/** `stepSd` itself is learned from all steps together and weighs there as this many visits. */
	readonly stepSdWeight: number;
	/** Of a step's usual time about its prior (planned time, or the mean of all steps). */
	readonly priorSd: number;
	/** Of the whole procedure about its plan; Infinity where there is no plan, so that the level comes from the runs alone. */
	readonly levelSd: number;
	/** Weight that holds a step's share in the pace (its loading) at 1; a pump's wait learns to have less. */
	readonly loadingWeight: number;
	/** Residuals beyond this many standard deviations count as if at it. */
	readonly clipSds: number;
	/** Shorter durations count as this long: a step passed in one breath says nothing of its usual time. */
	readonly shortestMs: number;
}

export const USUAL_SETTINGS: EffectsSettings = {
	operatorSd: 0.2,
	operatorGroupSd: 0.1,
	runSd: 0.2,
	operatorStepSd: 0.12,
	stepSd: 0.5,
	ownSpreadWeight: 4,
	stepSdWeight: 40,
	priorSd: 0.7,
	levelSd: Infinity,
	loadingWeight: 3,
	clipSds: 2.5,
	shortestMs: 3000
};
