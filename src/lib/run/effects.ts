import type { EventData, JournalEvent, Kind, Knowledge, StatedParts } from './events';
import { headingFor, leaveOutOf, outcomeOf, partsAfter, routeOf } from './route';
import { type RunState, visitsOf } from './state';
import { joinUndo, takeBack, undoFrom, undoWithReading } from './undo';

/** What an event of each kind makes of a state that it fits. Status is the chart's affair (machine.ts). Kinds not named change nothing. */
type Effect<K extends Kind> = (
	state: RunState,
	event: Extract<JournalEvent, { kind: K }>,
	data: EventData[K]
) => RunState;

const effects: { readonly [K in Kind]?: Effect<K> } = {
	begun: (state, event, data) => ({
		...state,
		run: event.run,
		edition: data.edition.body,
		editionHash: data.edition.hash,
		settings: data.settings,
		instrument: data.instrument ?? null,
		...stated({ parts: {}, known: {} }, data.parts),
		step: data.at,
		due: data.at,
		booking: data.booking,
		person: data.person,
		supervisor: data.supervisor,
		sample: data.sample,
		project: data.project,
		pen: { device: event.device, givenTo: null }
	}),
	stepEntered(state, { seq, at, mono, boot }, { step }) {
		const to = state.edition.steps[step];
		const stage = to?.stage ?? '';
		return {
			...state,
			step,
			entered: { seq, at, mono, boot },
			due: null,
			readings: {},
			rounds: [],
			confirmedHazard: false,
			hands: state.handsSaid ?? (to?.hands === 'clean' ? 'clean' : 'off'),
			visits: { ...state.visits, [stage]: { ...state.visits[stage], [step]: visitsOf(state, step) + 1 } },
			undo: joinUndo(state.undo, seq)
		};
	},
	outcome(state, { seq }, { step, outcome }) {
		const at = state.edition.steps[step];
		const taken = outcomeOf(at, outcome);
		if (!at || !taken) return state;
		const parts = partsAfter(state.parts, taken.set);
		return {
			...state,
			parts,
			known: knownBy('by step', state.known, taken.set),
			...headingFor(state, routeOf(taken.go, parts, state.settings)),
			movedSeq: seq,
			undo: taken.when === undefined ? undoFrom(state, seq, true, at.final) : undoWithReading(state, seq, at.final)
		};
	},
	skipped(state, { seq }, { step, stage }) {
		const leave = leaveOutOf(state, step, stage);
		if (!leave) return state;
		return { ...state, ...headingFor(state, leave.leadsTo), movedSeq: seq, undo: undoFrom(state, seq, true) };
	},
	trouble(state, { seq }, { trouble: id, step }) {
		const trouble = state.edition.troubles.find((known) => known.id === id);
		if (!trouble) return state;
		const parts = partsAfter(state.parts, trouble.set);
		const inside = { ...state, parts, frames: { trouble: id, from: step, outer: state.frames } };
		return {
			...inside,
			known: knownBy('by step', state.known, trouble.set),
			...headingFor(inside, routeOf(trouble.go, parts, state.settings)),
			movedSeq: seq,
			undo: state.calling === id ? joinUndo(state.undo, seq) : undoFrom(state, seq, true)
		};
	},
	wayBack(state, { seq }, { to }) {
		const undo = joinUndo(state.undo, seq);
		if (state.returning?.to === to) return { ...state, frames: state.returning.frames, returning: null, undo };
		return { ...state, frames: null, returning: null, due: to, undo };
	},
	endBegun: (state, { seq }, { why }) => ({
		...state,
		ending: true,
		endingWhy: why,
		due: state.due ?? state.step,
		movedSeq: seq,
		undo: state.due === 'safe end' ? joinUndo(state.undo, seq) : undoFrom(state, seq, true)
	}),
	reading(state, { seq }, data) {
		if (!data.confirmed) return state;
		const { value, unit, uncertainty } = data;
		const readings = { ...state.readings, [data.reading]: { value, unit, uncertainty, seq } };
		const step = state.edition.steps[state.step];
		const round = step?.kind === 'adjust' && step.readings.every(({ id }) => readings[id]);
		return {
			...state,
			readings: round ? {} : readings,
			rounds: round ? [...state.rounds, readings] : state.rounds,
			undo: undoFrom(state, seq, false)
		};
	},
	confirmed: (state, { seq }) => ({ ...state, confirmedHazard: true, undo: undoFrom(state, seq, false) }),
	undone: (state, event) => takeBack(state, event),
	held: (state, { seq }, { why, about }) => ({ ...state, held: { why, about, seq } }),
	resumed: (state) => ({ ...state, held: null }),
	partsStated: (state, { seq }, { parts }) => ({ ...state, ...stated(state, parts), statedSeq: seq }),
	hands: (state, _, { are }) => ({ ...state, hands: are, handsSaid: are }),
	bookingChanged: (state, _, { end }) => ({ ...state, booking: end === null ? null : { ...state.booking, end } }),
	details: (state, _, data) => ({
		...state,
		supervisor: data.supervisor === undefined ? state.supervisor : data.supervisor,
		sample: data.sample ?? state.sample,
		project: data.project ?? state.project,
		instrument: data.instrument ?? state.instrument
	}),
	clockOffset: (state, _, { offsetMs }) => ({ ...state, clockOffsetMs: offsetMs }),
	penGiven: (state, _, { to }) => ({ ...state, pen: { ...state.pen, givenTo: to } }),
	penTaken: (state, event, { device }) => ({ ...state, person: event.by, pen: { device, givenTo: null } }),
	aborted: (state) => ({ ...state, due: null, held: null }),
	completed: (state) => ({ ...state, due: null, held: null }),
	closed: (state) => ({ ...state, closed: true })
};

function knownBy(
	how: Knowledge,
	known: RunState['known'],
	set: readonly { readonly part: string }[]
): RunState['known'] {
	return set.length === 0 ? known : { ...known, ...Object.fromEntries(set.map(({ part }) => [part, how])) };
}

function stated(
	{ parts, known }: Pick<RunState, 'parts' | 'known'>,
	said: StatedParts
): Pick<RunState, 'parts' | 'known'> {
	const entries = Object.entries(said);
	return {
		parts: { ...parts, ...Object.fromEntries(entries.map(([part, { is }]) => [part, is])) },
		known: { ...known, ...Object.fromEntries(entries.map(([part, how]) => [part, how.known])) }
	};
}

/** The state after an event that fits it, but for `status`. */
export function effectOf(state: RunState, event: JournalEvent): RunState {
	const effect = effects[event.kind] as
		((state: RunState, event: JournalEvent, data: EventData[Kind]) => RunState) | undefined;
	return open(effect ? effect(state, event, event.data) : state, event);
}

/** What comes after a closing is not covered by it: the chain is open until it is closed anew. */
const open = (state: RunState, { kind }: JournalEvent): RunState =>
	state.closed && kind !== 'closed' ? { ...state, closed: false } : state;

/** Behind a final step only the record goes back: the run is held until the parts were stated. */
export const heldByRecordOnly = (state: RunState, event: JournalEvent): RunState => ({
	...state,
	held: { why: 'record', about: state.step, seq: event.seq }
});
