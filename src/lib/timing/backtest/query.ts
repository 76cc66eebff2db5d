/** Moments at which the time left is asked, and what may be known at each. */
import type { RecordedRun, RecordedStep } from './recorded-run';

/** What a model may know: nothing of it lies in the run's future. */
export interface Query {
	readonly operator: string;
	readonly procedure: string;
	readonly done: readonly RecordedStep[];
	/** Key and name of the running step; its duration is not told. */
	readonly running: { readonly key: string; readonly name: string; readonly visit: number };
	readonly inStepS: number;
	readonly elapsedS: number;
}

export interface AskedQuery extends Query {
	readonly runId: string;
	/** The truth, for scoring only. */
	readonly leftS: number;
}

/** Each step's start and every `everyS` seconds inside it, the run's end excluded. */
export function queriesOf(run: RecordedRun, everyS: number): AskedQuery[] {
	return run.steps.flatMap((step, index) => {
		const endS = step.beginS + step.durationS;
		const asked: AskedQuery[] = [];
		for (let atS = step.beginS; atS < endS - 1e-9; atS += everyS) {
			const elapsedS = Number(atS.toFixed(3));
			asked.push({
				runId: run.runId,
				operator: run.operator,
				procedure: run.procedure,
				done: run.steps.slice(0, index),
				running: { key: step.key, name: step.name, visit: step.visit },
				inStepS: atS - step.beginS,
				elapsedS,
				leftS: run.totalS - elapsedS
			});
		}
		return asked;
	});
}
