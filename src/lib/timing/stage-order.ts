/** The stages that run or are still to come, in the order in which the way ahead enters them. */
import type { PlannedProcedure, RunNow } from './port';

export interface StageAhead {
	readonly stage: string;
	readonly running: boolean;
	/** Indices into `toCome` of this stage's steps. */
	readonly steps: readonly number[];
	/** Index into `toCome` of its first step: all from there on comes after its beginning. */
	readonly first: number;
}

/**
 * A stage that the way enters twice (a way back) counts from its first entry. Between two stages, before the first step of the later one
 * is entered, no stage is running.
 */
export function stagesAhead(procedure: PlannedProcedure, now: RunNow): StageAhead[] {
	const runningStage = now.running && (now.running.stage ?? stageOf(procedure, now.running.path));
	const indices = new Map<string, number[]>();
	if (runningStage !== undefined) indices.set(runningStage, []);
	now.toCome.forEach((step, index) => {
		const known = indices.get(step.stage);
		if (known) known.push(index);
		else indices.set(step.stage, [index]);
	});
	return [...indices].map(([stage, steps]) => {
		const running = stage === runningStage;
		return { stage, running, steps, first: running ? 0 : (steps[0] as number) };
	});
}

function stageOf(procedure: PlannedProcedure, path: string): string | undefined {
	return procedure.steps.find((step) => step.path === path)?.stage;
}

/** Optional stages that have not begun: those that can still be left out. */
export function stagesToSpare(procedure: PlannedProcedure, ahead: readonly StageAhead[]): StageAhead[] {
	const optional = new Set(procedure.stages.filter((stage) => stage.optional).map((stage) => stage.id));
	return ahead.filter((stage) => !stage.running && optional.has(stage.stage));
}
