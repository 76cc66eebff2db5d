import type { Attempt, RunFacts } from '$lib/run/run-facts';

/** What one person's runs of a procedure show, stage by stage. */
export interface PersonRecord {
	readonly name: string;
	/** Oldest first. */
	readonly runs: readonly RunFacts[];
	readonly stages: readonly StageRecord[];
	/** Who supervised the newest run; null where nobody did. */
	readonly supervisedBy: string | null;
}

export interface StageRecord {
	readonly id: string;
	readonly name: string;
	readonly short: string;
	readonly attempts: readonly StageAttempt[];
}

export interface StageAttempt {
	readonly run: string;
	readonly atMs: number;
	readonly how: Attempt;
}

/** All people of these runs, by name: people are listed, not ranked. */
export function personRecords(runs: readonly RunFacts[], text: (localised: Readonly<Record<string, string>>) => string): PersonRecord[] {
	const byPerson = new Map<string, RunFacts[]>();
	for (const run of runs) {
		const mine = byPerson.get(run.past.operator);
		if (mine) mine.push(run);
		else byPerson.set(run.past.operator, [run]);
	}
	return [...byPerson]
		.map(([name, mine]) => ({ name, runs: mine, stages: stageRecords(mine, text), supervisedBy: mine.at(-1)?.supervisor ?? null }))
		.sort((a, b) => a.name.localeCompare(b.name));
}

function stageRecords(runs: readonly RunFacts[], text: (localised: Readonly<Record<string, string>>) => string): StageRecord[] {
	// the newest run's edition names the stages
	return (runs.at(-1)?.stages ?? []).map(({ id, title, short }) => {
		const walked = runs.flatMap(({ run, past, stages }) => stages.filter((stage) => stage.id === id).map((stage) => ({ run, atMs: past.startedAtMs, stage })));
		return {
			id,
			name: text(title),
			short: text(short),
			attempts: walked.flatMap(({ run, atMs, stage }) => (stage.attempt ? [{ run, atMs, how: stage.attempt }] : []))
		};
	});
}
