/** Mean durations of the steps of each procedure over training runs, with one run left out where it is itself being predicted. */
import type { RecordedRun } from './recorded-run';

interface Sums {
	runs: number;
	totalS: number;
	readonly steps: Map<string, { count: number; sumS: number }>;
}

export class ProcedureMeans {
	private readonly byProcedure = new Map<string, Sums>();
	private readonly everything = { runs: 0, totalS: 0 };

	constructor(train: readonly RecordedRun[]) {
		for (const run of train) this.count(run, 1);
	}

	/** Answers `ask` as if `run` were not among the training runs. */
	without<T>(run: RecordedRun, ask: () => T): T {
		this.count(run, -1);
		try {
			return ask();
		} finally {
			this.count(run, 1);
		}
	}

	/** Mean length of the procedure's runs; of all runs where the procedure is unknown; 0 where nothing is. */
	meanTotalS(procedure: string): number {
		const sums = this.byProcedure.get(procedure);
		if (sums && sums.runs > 0) return sums.totalS / sums.runs;
		return this.everything.runs > 0 ? this.everything.totalS / this.everything.runs : 0;
	}

	knows(procedure: string): boolean {
		return (this.byProcedure.get(procedure)?.runs ?? 0) > 0;
	}

	/** Mean duration of a step where it occurs; of any step of the procedure where it has not been seen. */
	meanStepS(procedure: string, key: string): number {
		const sums = this.byProcedure.get(procedure);
		const step = sums?.steps.get(key);
		if (step && step.count > 0) return step.sumS / step.count;
		const count = sums ? [...sums.steps.values()].reduce((all, each) => all + each.count, 0) : 0;
		return sums && count > 0 ? sums.totalS / count : 0;
	}

	/** Sum over the procedure's steps of mean duration × share of runs in which it occurs, those in `except` left out. */
	expectedS(procedure: string, except: ReadonlySet<string>): number {
		const sums = this.byProcedure.get(procedure);
		if (!sums || sums.runs === 0) return 0;
		let sumS = 0;
		for (const [key, step] of sums.steps) if (!except.has(key)) sumS += step.sumS;
		return sumS / sums.runs;
	}

	private count(run: RecordedRun, sign: 1 | -1): void {
		const sums: Sums = this.byProcedure.get(run.procedure) ?? { runs: 0, totalS: 0, steps: new Map() };
		this.byProcedure.set(run.procedure, sums);
		sums.runs += sign;
		sums.totalS += sign * run.totalS;
		this.everything.runs += sign;
		this.everything.totalS += sign * run.totalS;
		for (const { key, durationS } of run.steps) {
			const step = sums.steps.get(key) ?? { count: 0, sumS: 0 };
			sums.steps.set(key, step);
			step.count += sign;
			step.sumS += sign * durationS;
		}
	}
}
