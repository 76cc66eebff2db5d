import { assign, setup } from 'xstate';
import { effectOf, heldByRecordOnly } from './effects';
import { emptyState } from './empty';
import type { ForeignEvent, JournalEvent, Kind } from './events';
import { objectionTo } from './objections';
import type { RunState } from './state';

/**
 * The run's statechart, folded with xstate's pure transition (fold.ts).
 *
 *     idle ──begun──▶ running ⇄ paused          running, paused ──held──▶ held
 *     held ──resumed [parts were stated]──▶ running        any of the three ──▶ complete, aborted
 *
 * An event that no state takes, or whose guard refuses it, is a contradiction: told, left out (state.ts).
 */
export type ChartEvent =
	{ readonly type: Kind; readonly event: JournalEvent } | { readonly type: 'foreign'; readonly event: ForeignEvent };

const chart = setup({
	types: { context: {} as RunState, events: {} as ChartEvent },
	guards: {
		fits: ({ context, event }) => event.type !== 'foreign' && objectionTo(context, event.event) === null,
		fitsRecordOnly: ({ context, event }) =>
			event.type === 'undone' &&
			event.event.kind === 'undone' &&
			event.event.data.restores === 'record' &&
			objectionTo(context, event.event) === null
	},
	actions: {
		take: assign(({ context, event }) => (event.type === 'foreign' ? context : effectOf(context, event.event))),
		askParts: assign(({ context, event }) =>
			event.type === 'foreign' ? context : heldByRecordOnly(context, event.event)
		),
		contradict: assign(({ context, event }) => {
			const { kind, seq } = event.event;
			const objection = event.type === 'foreign' ? null : objectionTo(context, event.event);
			const { key, params } = objection ?? { key: 'notInThisState' as const, params: { status: context.status } };
			const before = context.contradictions;
			return { closed: false, contradictions: { seq, kind, key, params, count: (before?.count ?? 0) + 1, next: before } };
		}),
		countForeign: assign(({ context, event }) => {
			const { kind } = event.event;
			return { closed: false, foreign: { ...context.foreign, [kind]: (context.foreign[kind] ?? 0) + 1 } };
		})
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
