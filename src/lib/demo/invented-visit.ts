import type { Scenario, ScenarioVisit } from '$lib/procedure/scenario';
import { rfc3339 } from '$lib/record/rfc3339';
import type { Draws } from '$lib/timing/draws';

/** A visit of the invented history, with the person's habits at that time. */
export interface InventedVisit extends ScenarioVisit {
	/** Which of this person's visits it is, from 1. */
	readonly nth: number;
	/** Planned durations times this is the person's usual in this visit. */
	readonly pace: number;
	/** Standard deviation of the logarithm of a step's duration. */
	readonly spread: number;
	/** Chance that a check is answered so that a step is done again, and that a trouble strikes in a step that knows one. */
	readonly slips: number;
	readonly troubled: number;
	/** Ended early on the way, for want of time. */
	readonly cutShort: boolean;
}

type Person = Scenario['people'][number];

/** How many of a person's earlier visits are played: enough for charts, little enough for a tablet. */
const MOST_EARLIER = 12;
/** Visits of one person lie this many days apart. */
const DAYS_BETWEEN = 4;
const DAY_MS = 86_400_000;
const HOUR_MS = 3_600_000;
/** Each doubling of visits leaves 87 % of the time (the practice curve's b = 0.2): an invented truth. */
const PRACTICE = 0.2;
const SLIPS = { trainer: 0.006, operator: 0.012, trainee: 0.03 } as const;
const TROUBLED = { trainer: 0.0008, operator: 0.0015, trainee: 0.005 } as const;
/** What is left out or goes wrong in visits that the scenario does not tell of. */
const THIN_LEFT_OUT = 0.3;
const CUT_SHORT = 0.06;
/** A whole visit as planned, thinning included. */
const PLANNED_HOURS = 4.9;
/** The bench exercise is walked this often before a trainee's first visit. */
const EXERCISES = 5;

/** All visits of the scenario and those that went before them, oldest first. */
export function inventedVisits(scenario: Scenario, draws: Draws): InventedVisit[] {
	const firstMs = Math.min(...scenario.visits.map(({ start }) => Date.parse(start)));
	const offsetMin = offsetMinOf(scenario.visits[0]?.start ?? '');
	const at = (ms: number) => rfc3339(ms, offsetMin);
	const visits: InventedVisit[] = [];
	scenario.people.forEach((person, place) => {
		const count = Math.min(MOST_EARLIER, person.visitsBefore);
		const startOf = (back: number) => morning(firstMs - (back * DAYS_BETWEEN + 1 + (place % DAYS_BETWEEN)) * DAY_MS) + (draws.uniform() < 0.5 ? 0 : 4.5 * HOUR_MS);
		if (person.role === 'trainee')
			for (let back = EXERCISES; back >= 1; back--) {
				const startMs = startOf(count + back);
				visits.push({ ...habits(person, EXERCISES - back + 1), ...bare(scenario, person, draws), procedure: 'bench-loading', parts: { 'slot-1': 'empty', 'slot-2': 'empty', 'slot-3': 'absent', 'slot-4': 'absent' }, start: at(startMs), bookingEnd: at(startMs + HOUR_MS), leaveOut: [], cutShort: false });
			}
		for (let back = count; back >= 1; back--) {
			const nth = person.visitsBefore - back + 1;
			const startMs = startOf(back);
			const hours = Math.round(2 * PLANNED_HOURS * paceAt(person, nth) * (0.9 + 0.3 * draws.uniform())) / 2;
			visits.push({
				...habits(person, nth),
				...bare(scenario, person, draws),
				procedure: 'lift-out-visit',
				parts: { tip: 'none', 'slot-1': 'holds', 'slot-2': 'holds', 'slot-3': 'absent', 'slot-4': 'absent' },
				start: at(startMs),
				bookingEnd: at(startMs + hours * HOUR_MS),
				leaveOut: draws.uniform() < THIN_LEFT_OUT ? ['thin'] : [],
				cutShort: draws.uniform() < CUT_SHORT
			});
		}
	});
	const told = scenario.visits.map((visit): InventedVisit => {
		const person = scenario.people.find(({ id }) => id === visit.person) as Person;
		// what goes wrong in these is written in the scenario
		return { ...habits(person, person.visitsBefore + 1), ...visit, slips: 0, troubled: 0, cutShort: false };
	});
	return [...visits, ...told].sort((a, b) => Date.parse(a.start) - Date.parse(b.start));
}

const habits = (person: Person, nth: number) => ({
	nth,
	pace: paceAt(person, nth),
	spread: person.spread,
	slips: SLIPS[person.role],
	troubled: TROUBLED[person.role]
});

/** The scenario states today's pace; earlier visits were slower along the curve of practice, at most three times. */
const paceAt = ({ pace, visitsBefore }: Person, nth: number): number => pace * Math.min(3, (nth / (visitsBefore + 1)) ** -PRACTICE);

function bare(scenario: Scenario, person: Person, draws: Draws) {
	const sample = scenario.samples[Math.floor(draws.uniform() * scenario.samples.length)]?.id ?? '';
	const trainer = scenario.people.find(({ role }) => role === 'trainer')?.id ?? null;
	return { person: person.id, supervisor: person.role === 'trainee' ? trainer : null, sample, troubles: [], undone: [] };
}

/** Half past eight of that day by the zone's clock, near enough for invented visits. */
const morning = (ms: number): number => Math.floor(ms / DAY_MS) * DAY_MS + 7.5 * HOUR_MS;

/** Minutes east of UTC of an RFC 3339 stamp. */
export function offsetMinOf(stamp: string): number {
	const [, sign, hours, minutes] = /([+-])(\d\d):(\d\d)$/.exec(stamp) ?? [];
	return sign === undefined ? 0 : Number(`${sign}1`) * (Number(hours) * 60 + Number(minutes));
}
