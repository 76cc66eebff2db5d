/** Runs a model over test runs it was not fitted on. */
import { foldOfEach } from './folds';
import type { FitModel } from './model';
import { queriesOf } from './query';
import type { RecordedRun } from './recorded-run';
import type { ScoredQuery } from './score';

export interface Validation {
	readonly everyS: number;
	readonly seed: number;
}

/** Fits on `train`, predicts every query of `test`. A test run that is also in `train` is left out of the fit. */
export function heldOut(
	fit: FitModel,
	train: readonly RecordedRun[],
	test: readonly RecordedRun[],
	how: Validation
): ScoredQuery[] {
	const tested = new Set(test.map((run) => run.runId));
	const model = fit(
		train.filter((run) => !tested.has(run.runId)),
		how
	);
	return test.flatMap((run) =>
		queriesOf(run, how.everyS).map((query) => {
			const { runId, operator, elapsedS, leftS } = query;
			return { runId, operator, elapsedS, leftS, ...model.predict(query) };
		})
	);
}

/**
 * Splits `runs` into folds (seeded) and predicts each fold from the others and from `always`, runs in no fold; answers in the order of `runs`.
 */
export function crossValidated(
	fit: FitModel,
	runs: readonly RecordedRun[],
	folds: number,
	how: Validation,
	always: readonly RecordedRun[] = []
): ScoredQuery[] {
	const fold = foldOfEach(runs.length, folds, how.seed);
	const byRun = new Map<string, ScoredQuery[]>();
	for (let held = 0; held < folds; held++) {
		const train = [...always, ...runs.filter((_, index) => fold[index] !== held)];
		const test = runs.filter((_, index) => fold[index] === held);
		for (const scored of heldOut(fit, train, test, how)) {
			const known = byRun.get(scored.runId);
			if (known) known.push(scored);
			else byRun.set(scored.runId, [scored]);
		}
	}
	return runs.flatMap((run) => byRun.get(run.runId) ?? []);
}
