import { holds } from './condition';
import type { Edition, PartId, StageId, StepPath, TroubleId } from './edition';

/** Invented people, instrument, samples and visits: what the demo history and the screenshots are made from (procedures/demo). */
export interface Scenario {
	/** Always true: every run made from it carries the mark. */
	readonly invented: true;
	readonly note: string;
	/** Seed of the generator that plays the visits. */
	readonly seed: number;
	/** IANA zone. */
	readonly zone: string;
	readonly instrument: { readonly name: string; readonly clockOffsetMs: number; readonly settings: Readonly<Record<string, string | number>> };
	readonly people: readonly ScenarioPerson[];
	readonly projects: readonly { readonly id: string; readonly title: string }[];
	readonly samples: readonly { readonly id: string; readonly project: string; readonly title: string }[];
	readonly visits: readonly ScenarioVisit[];
}

export interface ScenarioPerson {
	readonly id: string;
	readonly name: string;
	readonly role: 'trainer' | 'operator' | 'trainee';
	readonly visitsBefore: number;
	/** Planned durations times this is the person's usual. */
	readonly pace: number;
	/** Standard deviation of the logarithm of a step's duration. */
	readonly spread: number;
}

export interface ScenarioVisit {
	readonly procedure: string;
	readonly person: string;
	readonly supervisor: string | null;
	readonly sample: string;
	/** RFC 3339. */
	readonly start: string;
	readonly bookingEnd: string;
	/** Parts at the start; those not named stand at their first start condition. */
	readonly parts: Readonly<Record<PartId, string>>;
	/** Troubles that are called, each the first time that the walk stands in that step. */
	readonly troubles: readonly { readonly trouble: TroubleId; readonly in: StepPath }[];
	/** Steps that are taken back once, and done again. */
	readonly undone: readonly StepPath[];
	readonly leaveOut: readonly StageId[];
}

/** Parts with which a visit of the scenario begins. */
export const partsOf = (visit: ScenarioVisit, edition: Edition): Record<PartId, string> =>
	Object.fromEntries(edition.parts.map((part) => [part.id, visit.parts[part.id] ?? part.start[0] ?? '']));

/** What in a scenario does not fit the editions it names: one sentence each; none if all fits. */
export function scenarioFaults(scenario: Scenario, editions: ReadonlyMap<string, Edition>): string[] {
	const faults: string[] = [];
	const expect = (well: boolean, sentence: string): void => void (well || faults.push(sentence));
	const people = new Set(scenario.people.map(({ id }) => id));
	for (const sample of scenario.samples) expect(scenario.projects.some(({ id }) => id === sample.project), `sample ${sample.id}: there is no project ${sample.project}`);
	scenario.visits.forEach((visit, i) => {
		const where = `visit ${i + 1}`;
		const edition = editions.get(visit.procedure);
		if (!edition) return void faults.push(`${where}: there is no procedure ${visit.procedure}`);
		expect(people.has(visit.person), `${where}: there is no person ${visit.person}`);
		expect(visit.supervisor === null || people.has(visit.supervisor), `${where}: there is no person ${visit.supervisor}`);
		expect(scenario.samples.some(({ id }) => id === visit.sample), `${where}: there is no sample ${visit.sample}`);
		expect(Date.parse(visit.start) < Date.parse(visit.bookingEnd), `${where}: the booking ends before the visit starts`);
		for (const part of Object.keys(visit.parts)) expect(edition.parts.some(({ id }) => id === part), `${where}: there is no part ${part}`);
		const parts = partsOf(visit, edition);
		for (const part of edition.parts) expect(part.start.includes(parts[part.id] ?? ''), `${where}: ${part.id} cannot begin as ${parts[part.id]}`);
		for (const invariant of edition.invariants) if ('always' in invariant) expect(holds(invariant.always, parts), `${where}: the parts break ${invariant.id}`);
		for (const { trouble, in: step } of visit.troubles) {
			const called = edition.troubles.find(({ id }) => id === trouble);
			if (!called) faults.push(`${where}: there is no trouble ${trouble}`);
			else expect(called.steps.includes(step) || called.stages.includes(edition.steps[step]?.stage ?? ''), `${where}: ${trouble} cannot happen in ${step}`);
		}
		for (const step of visit.undone) expect(edition.steps[step] !== undefined, `${where}: there is no step ${step}`);
		for (const stage of visit.leaveOut) expect(edition.stages.some(({ id, optional }) => id === stage && optional), `${where}: ${stage} cannot be left out`);
	});
	return faults;
}
