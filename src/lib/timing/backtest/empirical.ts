/**
 * Empirical conditional quantiles: the time left in those training runs of the procedure that came to the same step and stayed in it at
 * least as long, at the same time inside it; where fewer than three did, total − elapsed of all its runs (of all runs, where there are
 * none), not below zero.
 */
import { quantileOfSorted } from '../quantile';
import type { FitModel } from './model';
import type { Query } from './query';
import type { RecordedRun } from './recorded-run';

const FEWEST = 3;

export const fitEmpirical: FitModel = (train) => ({
	predict(query) {
		const ofProcedure = train.filter((run) => run.procedure === query.procedure);
		const alike = ofProcedure.flatMap((run) => leftInSameStep(run, query));
		const totals = ofProcedure.length > 0 ? ofProcedure : train;
		const sample = alike.length >= FEWEST ? alike : totals.map((run) => Math.max(0, run.totalS - query.elapsedS));
		const sorted = sample.length > 0 ? sample.sort((a, b) => a - b) : [0];
		return {
			p10S: quantileOfSorted(sorted, 0.1),
			p50S: quantileOfSorted(sorted, 0.5),
			p90S: quantileOfSorted(sorted, 0.9)
		};
	}
});

function leftInSameStep(run: RecordedRun, query: Query): number[] {
	const step = run.steps.find((each) => each.key === query.running.key);
	return step && step.durationS > query.inStepS ? [run.totalS - step.beginS - query.inStepS] : [];
}
