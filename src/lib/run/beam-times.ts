import type { PlannedProcedure, PlannedStep, RunNow } from '$lib/timing/port';

/** Planned time in ms by step path, from a plan of cuts; it goes before what the procedure says of the step. */
export type BeamTimesMs = Readonly<Record<string, number>>;

const timed = (step: PlannedStep, beam: BeamTimesMs): PlannedStep => {
	const plannedMs = Object.hasOwn(beam, step.path) ? beam[step.path] : undefined;
	return plannedMs === undefined ? step : { ...step, plannedMs };
};

/** The procedure with the plan's times in it: a stage's planned duration is that of its steps. */
export const procedureWith = (procedure: PlannedProcedure, beam: BeamTimesMs): PlannedProcedure => ({
	...procedure,
	steps: procedure.steps.map((step) => timed(step, beam))
});

/** The same for what is still to come in a run. */
export const runWith = (now: RunNow, beam: BeamTimesMs): RunNow => ({ ...now, toCome: now.toCome.map((step) => timed(step, beam)) });
