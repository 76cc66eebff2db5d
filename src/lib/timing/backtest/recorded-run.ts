/** Recorded runs as the measure sees them (times in seconds; shape of the data: one row a step, see recorded-csv.ts). */

/** One row of the file. */
export interface RecordedRow {
	readonly line: number;
	readonly runId: string;
	readonly operator: string;
	readonly procedure: string;
	readonly stepName: string;
	readonly startS: number;
	readonly endS: number;
}

/** A step that occurs again in a run is a step of its own: `key` is its name and the number of the occurrence. */
export interface RecordedStep {
	readonly key: string;
	readonly name: string;
	readonly visit: number;
	/** Seconds after the run's first step began. */
	readonly beginS: number;
	readonly durationS: number;
}

export interface RecordedRun {
	readonly runId: string;
	readonly operator: string;
	readonly procedure: string;
	readonly steps: readonly RecordedStep[];
	readonly totalS: number;
}

const SHORTEST_STEP_S = 0.5;

export const stepKey = (name: string, visit: number): string => (visit === 1 ? name : `${name} #${visit}`);

/**
 * Rows to runs, in the order in which the runs first appear: rows sorted by start, then end; a step lasts to the next row's start, at
 * least 0.5 s; the last one to the latest end of the run.
 */
export function recordedRuns(rows: readonly RecordedRow[]): RecordedRun[] {
	const byRun = new Map<string, RecordedRow[]>();
	for (const row of rows) {
		const known = byRun.get(row.runId);
		if (known) known.push(row);
		else byRun.set(row.runId, [row]);
	}
	return [...byRun.values()].map(recordedRun);
}

function recordedRun(unsorted: readonly RecordedRow[]): RecordedRun {
	const rows = [...unsorted].sort((a, b) => a.startS - b.startS || a.endS - b.endS);
	const first = rows[0] as RecordedRow;
	const last = rows[rows.length - 1] as RecordedRow;
	const endS = Math.max(...rows.map((row) => row.endS), last.startS + SHORTEST_STEP_S);
	const visits = new Map<string, number>();
	const steps: RecordedStep[] = [];
	let beginS = 0;
	rows.forEach((row, index) => {
		const visit = (visits.get(row.stepName) ?? 0) + 1;
		visits.set(row.stepName, visit);
		const durationS = Math.max((rows[index + 1]?.startS ?? endS) - row.startS, SHORTEST_STEP_S);
		steps.push({ key: stepKey(row.stepName, visit), name: row.stepName, visit, beginS, durationS });
		beginS += durationS;
	});
	return { runId: first.runId, operator: first.operator, procedure: first.procedure, steps, totalS: beginS };
}
