import { assign, setup } from 'xstate';
import { effectOf, heldByRecordOnly } from './effects';
import { emptyState } from './empty';
import type { ForeignEvent, JournalEvent, Kind } from './events';
import { objectionTo } from './objections';
import type { RunState } from './state';

/**
 * The run's statechart.
 *
 *     idle ──begun──▶ running ⇄ paused          running, paused ──held──▶ held
 *     held ──resumed [parts were stated]──▶ running        any of the three ──▶ complete, aborted
 *
 * An event that no state takes, or whose guard refuses it, is a contradiction: told, left out (state.ts).
 */
export type ChartEvent =
	{ readonly type: Kind; readonly event: JournalEvent } | { readonly type: 'foreign'; readonly event: ForeignEvent };

/** Whether a transition may be taken. A kind that this version does not know fits nowhere. */
export const guards = {
	fits: (state: RunState, { type, event }: ChartEvent): boolean => type !== 'foreign' && objectionTo(state, event) === null,
	fitsRecordOnly: (state: RunState, { type, event }: ChartEvent): boolean =>
		type !== 'foreign' && event.kind === 'undone' && event.data.restores === 'record' && objectionTo(state, event) === null
};

/** What a transition makes of the state. */
export const actions = {
	take: (state: RunState, { type, event }: ChartEvent): RunState => (type === 'foreign' ? state : effectOf(state, event)),
	askParts: (state: RunState, { type, event }: ChartEvent): RunState => (type === 'foreign' ? state : heldByRecordOnly(state, event)),
	contradict(state: RunState, { type, event }: ChartEvent): RunState {
		const { kind, seq } = event;
		const objection = type === 'foreign' ? null : objectionTo(state, event);
		const { key, params } = objection ?? { key: 'notInThisState' as const, params: { status: state.status } };
		const before = state.contradictions;
		return { ...state, closed: false, contradictions: { seq, kind, key, params, count: (before?.count ?? 0) + 1, next: before } };
	},
	countForeign(state: RunState, { event: { kind } }: ChartEvent): RunState {
		return { ...state, closed: false, foreign: { ...state.foreign, [kind]: (state.foreign[kind] ?? 0) + 1 } };
	}
};
export type GuardName = keyof typeof guards;
export type ActionName = keyof typeof actions;

const chart = setup({
	types: { context: {} as RunState, events: {} as ChartEvent },
	guards: {
		fits: ({ context, event }) => guards.fits(context, event),
		fitsRecordOnly: ({ context, event }) => guards.fitsRecordOnly(context, event)
	},
	actions: {
		take: assign(({ context, event }) => actions.take(context, event)),
		askParts: assign(({ context, event }) => actions.askParts(context, event)),
		contradict: assign(({ context, event }) => actions.contradict(context, event)),
		countForeign: assign(({ context, event }) => actions.countForeign(context, event))
	}
});

const take = { guard: 'fits', actions: 'take' } as const;
const takeTo = <T extends string>(target: T) => ({ ...take, target }) as const;
/** Facts that may be added in every state once the run has begun. */
const facts = {
	note: take,
	attachment: take,
	late: take,
	message: take,
	corrected: take,
	details: take,
	clockOffset: take,
	reopened: take,
	choice: take,
	penGiven: take,
	penTaken: take
} as const;
/** What may happen wherever the run is not at its end. */
const live = {
	...facts,
	hands: take,
	bookingChanged: take,
	partsStated: take,
	completed: takeTo('complete'),
	aborted: takeTo('aborted')
} as const;
const undone = [{ guard: 'fitsRecordOnly', actions: ['take', 'askParts'], target: 'held' }, take] as const;
/** Places may change while held or away (a trouble's first step is shown at once), answers may not. */
const moves = { stepEntered: take, trouble: take, wayBack: take, undone } as const;

export const machine = chart.createMachine({
	id: 'run',
	context: emptyState,
	initial: 'idle',
	on: { foreign: { actions: 'countForeign' }, '*': { actions: 'contradict' } },
	states: {
		idle: { on: { begun: takeTo('running') } },
		running: {
			on: {
				...live,
				...moves,
				outcome: take,
				reading: take,
				confirmed: take,
				skipped: take,
				endBegun: take,
				paused: takeTo('paused'),
				held: takeTo('held')
			}
		},
		paused: { on: { ...live, ...moves, resumed: takeTo('running'), held: takeTo('held') } },
		held: { on: { ...live, ...moves, resumed: takeTo('running'), held: take } },
		complete: { on: { ...facts, closed: take } },
		aborted: { on: { ...facts, closed: take } }
	}
});
