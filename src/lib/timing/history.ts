/** What every forecaster refuses and counts alike: runs of the history and the run now. */
import type { Basis, PastRun, PlannedProcedure, RunNow, TimedStep } from './port';

/** Refuses a duration that cannot be one. `what` names it in the message. */
export function requireDuration(what: string, durationMs: number): void {
	if (!Number.isFinite(durationMs) || durationMs < 0)
		throw new RangeError(`${what}: expected a duration of at least 0 ms, got ${durationMs}`);
}

function requireSteps(where: string, steps: readonly TimedStep[]): void {
	for (const step of steps) {
		requireDuration(`${where}, step "${step.path}"`, step.durationMs);
		if (!Number.isInteger(step.visit) || step.visit < 1)
			throw new RangeError(`${where}, step "${step.path}": expected a visit number from 1, got ${step.visit}`);
	}
}

/**
 * The runs taken into a history, each once.
 * @throws RangeError on a run of another procedure, a run already taken, or a duration out of range
 */
export class RunBook {
	private readonly known = new Set<string>();
	private readonly runsOf = new Map<string, number>();

	constructor(private readonly procedure: PlannedProcedure) {
		for (const step of procedure.steps)
			if (step.plannedMs !== undefined)
				requireDuration(`procedure "${procedure.id}", step "${step.path}"`, step.plannedMs);
	}

	take(run: PastRun): void {
		if (run.procedure !== this.procedure.id)
			throw new RangeError(`run "${run.id}": expected procedure "${this.procedure.id}", got "${run.procedure}"`);
		if (this.known.has(run.id)) throw new RangeError(`run "${run.id}": already in the history`);
		requireSteps(`run "${run.id}"`, run.steps);
		for (const trouble of run.troubles ?? [])
			requireDuration(`run "${run.id}", trouble "${trouble.id}"`, trouble.durationMs);
		this.known.add(run.id);
		this.runsOf.set(run.operator, (this.runsOf.get(run.operator) ?? 0) + 1);
	}

	basisFor(operator: string): Basis {
		const ownRuns = this.runsOf.get(operator) ?? 0;
		const groupRuns = this.known.size;
		return { kind: ownRuns > 0 ? 'own' : groupRuns > 0 ? 'group' : 'plan', ownRuns, groupRuns };
	}
}

/** Refuses a run-now that cannot be, and a surety that is no probability; gives the surety. */
export function requireNow(now: RunNow, surety = 0.9): number {
	requireSteps('run now', now.done);
	if (now.running) requireDuration(`running step "${now.running.path}"`, now.running.elapsedMs);
	if (!(surety > 0 && surety < 1))
		throw new RangeError(`surety: expected a probability between 0 and 1, got ${surety}`);
	return surety;
}
