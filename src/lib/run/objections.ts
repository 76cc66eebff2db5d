import { holds } from '$lib/procedure/condition';
import { readingAsked } from './asked';
import type { EventData, JournalEvent, Kind } from './events';
import { leaveOutOf, outcomeOf } from './route';
import type { ObjectionKey, RunState } from './state';
import { undoRestores } from './undo';

/** Why an event cannot follow from a state. */
export interface Objection {
	readonly key: ObjectionKey;
	readonly params: Readonly<Record<string, string | number>>;
}

const object = (key: ObjectionKey, params: Objection['params']): Objection => ({ key, params });

type Judge<K extends Kind> = (state: RunState, data: EventData[K], seq: number) => Objection | null;

/** What each kind must fit, beyond the run's state (machine.ts) and the pen. Kinds that are not named fit always. */
const judges: { readonly [K in Kind]?: Judge<K> } = {
	begun: (_, data) => (data.edition.body.steps[data.at] ? null : object('noSuchStep', { step: data.at })),
	stepEntered(state, { step }) {
		if (!state.edition.steps[step]) return object('noSuchStep', { step });
		if (state.returning || state.calling)
			return object('betweenSteps', { due: state.returning?.to ?? `trouble:${state.calling}` });
		return state.due === step || joinsSafePath(state, step) ? null : object('notDue', { step, due: state.due ?? '' });
	},
	outcome(state, { step, outcome }) {
		return (
			standing(state, step) ??
			(outcomeOf(state.edition.steps[step], outcome) ? null : object('noSuchOutcome', { step, outcome }))
		);
	},
	reading(state, { step, reading, confirmed }) {
		const away = standing(state, step);
		if (away || !confirmed) return away;
		const asked = state.edition.steps[step]?.readings.some(({ id }) => id === reading) && readingAsked(state) !== null;
		return asked ? null : object('noSuchReading', { reading });
	},
	confirmed(state, { step }) {
		return standing(state, step) ?? (state.edition.steps[step]?.hazard ? null : object('nothingToConfirm', { step }));
	},
	skipped(state, { step, stage }) {
		return standing(state, step) ?? (leaveOutOf(state, step, stage) ? null : object('notOptional', { step }));
	},
	trouble(state, { trouble, step }) {
		if (!state.edition.troubles.some(({ id }) => id === trouble)) return object('noSuchTrouble', { trouble });
		if (step !== state.step) return object('elsewhere', { step, stands: state.step });
		if (state.calling === trouble) return null;
		return standing(state, step);
	},
	wayBack(state, { trouble, to }) {
		const leads = state.returning?.to === to || (to !== 'safe end' && joinsSafePath(state, to));
		return leads && state.frames?.trouble === trouble ? null : object('noWayBack', { to });
	},
	undone(state, { events, restores }) {
		const newest = state.undo?.events ?? [];
		const same = newest.length > 0 && newest.length === events.length && newest.every((seq, i) => seq === events[i]);
		if (!state.undo || !same) return object('notNewest', { events: events.join(', ') });
		const possible = restores === 'record' || undoRestores(state, state.undo) === 'parts';
		return possible ? null : object('cannotRestore', { step: state.undo.before.step });
	},
	endBegun(state) {
		if (state.ending) return object('notInThisState', { status: 'ending' });
		return state.due === 'safe end' && !state.returning ? null : standing(state, state.step);
	},
	resumed(state) {
		if (!state.held || state.statedSeq > state.held.seq) return null;
		return object('partsNotStated', { held: state.held.seq });
	},
	partsStated(state, { parts }) {
		for (const [id, { is }] of Object.entries(parts)) {
			const part = state.edition.parts.find((known) => known.id === id);
			if (!part?.conditions.some((condition) => condition.id === is))
				return object('noSuchCondition', { part: id, condition: is });
		}
		return null;
	},
	completed(state) {
		const reached =
			state.due === 'complete' && !state.returning && holds(state.edition.ends.complete, state.parts, state.settings);
		return reached ? null : object('endNotReached', { end: 'complete' });
	},
	aborted(state) {
		const stated = state.statedSeq > state.movedSeq;
		return stated || holds(state.edition.ends.safe, state.parts, state.settings)
			? null
			: object('endNotReached', { end: 'safe' });
	},
	// a closing behind a closing says something new only where a person signed too
	closed: (state, { countersigned }) => (state.closed && !countersigned?.length ? object('notInThisState', { status: 'closed' }) : null)
};

/**
 * During the safe end the walk may join the flow at any step of a stage that is marked as an entry, whatever is due, or
 * do the step at which it stands, where nothing but the safe end is due.
 */
function joinsSafePath(state: RunState, step: string): boolean {
	const to = state.edition.steps[step];
	if (!state.ending || state.due === null || !to || to.stage.startsWith('trouble:')) return false;
	return to.entry || (step === state.step && (state.due === 'safe end' || state.due === 'complete')) || leftOutOnTheWay(state, step);
}

/** The shortest way leaves out what may be left out: whether that leads from the step that is due to this one. */
function leftOutOnTheWay(state: RunState, step: string): boolean {
	const { edition, parts, settings } = state;
	const met = new Set<string>();
	for (let due = state.due; due !== null && !met.has(due); ) {
		met.add(due);
		const leave = leaveOutOf(state, due) ?? leaveOutOf(state, due, edition.steps[due]?.stage);
		if (!leave || !holds(leave.ifLeftOut, parts, settings) || !('step' in leave.leadsTo)) return false;
		due = leave.leadsTo.step;
		if (due === step) return true;
	}
	return false;
}

/** The walk stands at this step, with nothing due. */
function standing(state: RunState, step: string): Objection | null {
	if (state.due !== null || state.returning || state.calling || !state.entered)
		return object('betweenSteps', { due: state.due ?? state.calling ?? '' });
	return step === state.step ? null : object('elsewhere', { step, stands: state.step });
}

/** Why this event cannot follow, or null. Taking the pen is the one thing a device without it may write. */
export function objectionTo(state: RunState, event: JournalEvent): Objection | null {
	if (event.kind !== 'begun' && event.kind !== 'penTaken' && event.device !== state.pen.device)
		return object('withoutPen', { device: event.device, pen: state.pen.device });
	const judge = judges[event.kind] as Judge<Kind> | undefined;
	return judge ? judge(state, event.data, event.seq) : null;
}
