import type { ConditionId, PartId } from '$lib/procedure/edition';
import { isOnlyStart } from '$lib/run/begin';
import type { PartChange, PartHistory, ReadingKept } from './partHistory';
import { rolesOf, type Roles } from './partRoles';
import { stageAxisOf } from './returns';
import { TipBook, type Tip } from './tipBook';

export type { Tip } from './tipBook';

/**
 * The ledger of parts: what is where, since when, touched by whom; the life of every tip; every lamella and how it fared. A fold of
 * the runs' part histories and of nothing else, so it can be made anew from the journals at any time.
 */
export interface Ledger {
	/** Newest condition of every part, and where that knowledge is from. */
	readonly where: Readonly<Record<PartId, Standing>>;
	/** Tips in the order in which they were first met. */
	readonly tips: readonly Tip[];
	readonly lamellae: readonly Lamella[];
	readonly contradictions: readonly Contradiction[];
}

export interface Standing {
	readonly is: ConditionId;
	/** Since when it has been so; carried on over runs that began with the same. */
	readonly since: string;
	/** Who touched it last. */
	readonly by: string;
	readonly run: string;
	/** How the newest run knows it. */
	readonly known: PartChange['known'];
}

export interface Lamella {
	readonly run: string;
	readonly sample: string;
	readonly project: string;
	readonly person: string;
	/** Post that carries it: a condition of the part `post`, else the last reading called `post`; null where neither tells it. */
	readonly post: string | null;
	readonly course: readonly { readonly is: ConditionId; readonly at: string; readonly by: string }[];
	readonly fared: ConditionId;
	/** Last confirmed value of each reading taken while it was worked on (layer, block, window thickness). */
	readonly readings: readonly Pick<ReadingKept, 'step' | 'reading' | 'value' | 'unit'>[];
}

/** A run that began otherwise than the one before it left things. */
export interface Contradiction {
	readonly part: PartId;
	readonly left: ConditionId;
	readonly leftBy: string;
	readonly seen: ConditionId;
	readonly run: string;
	readonly at: string;
	/** How the person said it was resolved; null: it was not said. */
	readonly resolved: string | null;
}

/** The ledger of all runs on one holder and instrument; runs are put in the order of their beginning first. */
export function ledgerOf(histories: readonly PartHistory[]): Ledger {
	const inOrder = [...histories].sort(
		(a, b) => Date.parse(a.begunAt) - Date.parse(b.begunAt) || (a.run < b.run ? -1 : 1)
	);
	const where: Record<PartId, Standing> = {};
	const tips = new TipBook();
	const contradictions: Contradiction[] = [];
	const lamellae: Lamella[] = [];
	let before: PartHistory | null = null;
	for (const history of inOrder) {
		const roles = rolesOf(history.edition);
		for (const change of history.changes) {
			const standing = where[change.part];
			if (standing && change.was === null && change.step === null) {
				const unknown = history.edition.parts.find(({ id }) => id === change.part)?.unknown;
				if (standing.is !== change.is && standing.is !== unknown && !beginsAnew(history, change, before))
					contradictions.push({
						part: change.part,
						left: standing.is,
						leftBy: standing.by,
						seen: change.is,
						run: change.run,
						at: change.at,
						resolved: history.explained[change.part] ?? null
					});
			}
			// the beginning of a run that finds a part as it was left touches nothing
			where[change.part] =
				standing && standing.is === change.is && change.step === null
					? { ...standing, known: change.known }
					: { is: change.is, since: change.at, by: change.by, run: change.run, known: change.known };
		}
		for (const changes of byEvent(history.changes)) tips.take(changes, roles);
		const lamella = lamellaOf(history, roles);
		if (lamella) lamellae.push(lamella);
		before = history;
	}
	return { where, tips: tips.all(), lamellae, contradictions };
}

/** A visit that was walked to its end is followed by one with a new sample and grid: what has only one beginning was brought to it. */
const beginsAnew = ({ edition }: PartHistory, { part, is }: PartChange, before: PartHistory | null): boolean =>
	before?.status === 'complete' && isOnlyStart(edition, part, is);

function byEvent(changes: readonly PartChange[]): PartChange[][] {
	const events = new Map<number, PartChange[]>();
	for (const change of changes) events.set(change.seq, [...(events.get(change.seq) ?? []), change]);
	return [...events.values()];
}

function lamellaOf(history: PartHistory, roles: Roles): Lamella | null {
	if (roles.lamella === null) return null;
	const course = history.changes.filter(({ part }) => part === roles.lamella).map(({ is, at, by }) => ({ is, at, by }));
	// one that was never cut is not one yet
	if (course.length < 2) return null;
	const newest = new Map(
		history.readings.map(({ step, reading, value, unit }) => [`${step} ${reading}`, { step, reading, value, unit }])
	);
	return {
		run: history.run,
		sample: history.sample,
		project: history.project,
		person: history.person,
		post: postOf(history, roles),
		course,
		fared: course.at(-1)!.is,
		readings: [...newest.values()].filter(
			({ step, reading }) => reading !== POST && stageAxisOf(reading) === null && history.edition.steps[step]?.kind !== 'adjust'
		)
	};
}

/** The reading that tells a post where no part does. */
const POST = 'post';

function postOf({ left, readings }: PartHistory, { post }: Roles): string | null {
	if (post !== null) return left[post] ?? null;
	const told = readings.findLast(({ reading }) => reading === POST);
	return told ? String(told.value) : null;
}
