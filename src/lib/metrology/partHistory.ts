import type { ConditionId, Edition, PartId, StepPath } from '$lib/procedure/edition';
import type { ForeignEvent, JournalEvent, Knowledge } from '$lib/run/events';
import { emptyState, fold } from '$lib/run/fold';
import type { RunStatus } from '$lib/run/state';

/** One part's change in one run, as the fold of the journal has it; what was undone appears as a change back. */
export interface PartChange {
	readonly part: PartId;
	/** Null for what the run began with. */
	readonly was: ConditionId | null;
	readonly is: ConditionId;
	readonly known: Knowledge;
	readonly run: string;
	readonly seq: number;
	/** RFC 3339 with offset, as stamped. */
	readonly at: string;
	readonly by: string;
	/** Step the walk stood at; null at the very beginning. */
	readonly step: StepPath | null;
	/** Kind of the event that brought it: an outcome, a trouble, a statement, an undoing. */
	readonly through: string;
	/** Answer of the outcome, where it was one: why a tip was retired stands there. */
	readonly answer: string | null;
}

export interface ReadingKept {
	readonly step: StepPath;
	readonly reading: string;
	readonly value: number;
	readonly unit: string;
	readonly at: string;
	readonly seq: number;
	/** Conditions of the parts when it was read. */
	readonly parts: Readonly<Record<PartId, ConditionId>>;
}

/** A run as the ledger needs it. */
export interface PartHistory {
	readonly run: string;
	readonly edition: Edition;
	readonly person: string;
	readonly sample: string;
	readonly project: string;
	readonly begunAt: string;
	readonly status: RunStatus;
	readonly changes: readonly PartChange[];
	readonly readings: readonly ReadingKept[];
	/** Conditions at the run's last event. */
	readonly left: Readonly<Record<PartId, ConditionId>>;
	/** Answers to contradictions between what the last visit left and what was seen, by part. */
	readonly explained: Readonly<Record<PartId, string>>;
	readonly invented: boolean;
}

/** The part history of one journal; null where it has no genesis. Undone readings are left out. */
export function partHistory(events: Iterable<JournalEvent | ForeignEvent>): PartHistory | null {
	let state = emptyState;
	let begun: Extract<JournalEvent, { kind: 'begun' }> | null = null;
	const changes: PartChange[] = [];
	const readings = new Map<number, ReadingKept>();
	const explained: Record<PartId, string> = {};
	for (const event of events) {
		const before = state;
		state = fold(state, event);
		const known = event as JournalEvent;
		if (known.kind === 'begun') begun ??= known;
		if (state.contradictions?.seq === event.seq) continue;
		if (known.kind === 'choice' && known.data.ask === 'contradiction') explained[known.data.about] = known.data.answer;
		if (known.kind === 'undone') for (const seq of known.data.events) readings.delete(seq);
		if (known.kind === 'reading' && known.data.confirmed) {
			const { step, reading, value, unit } = known.data;
			readings.set(event.seq, { step, reading, value, unit, at: event.at, seq: event.seq, parts: state.parts });
		}
		if (state.parts === before.parts) continue;
		for (const [part, is] of Object.entries(state.parts)) {
			const was = before.parts[part] ?? null;
			if (was === is) continue;
			changes.push({
				part,
				was,
				is,
				known: state.known[part] ?? 'by step',
				run: event.run,
				seq: event.seq,
				at: event.at,
				by: event.by,
				step: before.seq < 0 ? null : before.step,
				through: event.kind,
				answer: known.kind === 'outcome' ? known.data.outcome : null
			});
		}
	}
	if (!begun) return null;
	return {
		run: begun.run,
		edition: state.edition,
		person: state.person,
		sample: state.sample,
		project: state.project,
		begunAt: begun.at,
		status: state.status,
		changes,
		readings: [...readings.values()],
		left: state.parts,
		explained,
		invented: begun.data.invented === true
	};
}
