import type { Command, DecideContext, Decision } from '../command';
import type { Draft } from '../events';
import type { RunState } from '../state';
import { nothing, refuse } from './result';

type Of<Id extends Command['id']> = Extract<Command, { id: Id }>;

const one = (draft: Draft): Decision => ({ drafts: [draft] });
const isMoment = (text: string): boolean =>
	/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)$/.test(text) && !Number.isNaN(Date.parse(text));

export const note = (_: RunState, { text, sound }: Of<'note'>): Decision =>
	text.trim() === '' && sound === undefined
		? refuse('emptyText', { field: 'note' })
		: one({ kind: 'note', data: { text, ...(sound === undefined ? {} : { sound }) } });

export const attachment = (state: RunState, { sha256, type, bytes, name }: Of<'attachment'>): Decision =>
	one({ kind: 'attachment', data: { sha256, type, bytes, name, step: state.step || null } });

/** What was done earlier is kept apart from what was stamped, and moves nothing (R17). */
export function late(state: RunState, { step, done, words }: Of<'late'>): Decision {
	if (!isMoment(done)) return refuse('notAMoment', { text: done });
	const path = step ?? state.step;
	return state.edition.steps[path]
		? one({ kind: 'late', data: { step: path, done, words } })
		: refuse('noSuchAnswer', { step: path, outcome: '' });
}

export const hands = (_: RunState, { are }: Of<'hands'>): Decision => one({ kind: 'hands', data: { are } });

export function booking(state: RunState, { end }: Of<'booking'>): Decision {
	if (end !== null && !isMoment(end)) return refuse('notAMoment', { text: end });
	const was = state.booking?.end ?? null;
	return was === end ? nothing : one({ kind: 'bookingChanged', data: { end, was } });
}

export function details(_: RunState, { supervisor, sample, project, instrument }: Of<'details'>): Decision {
	const given = {
		...(supervisor === undefined ? {} : { supervisor }),
		...(sample === undefined ? {} : { sample }),
		...(project === undefined ? {} : { project }),
		...(instrument === undefined ? {} : { instrument })
	};
	return Object.keys(given).length === 0
		? refuse('emptyText', { field: 'details' })
		: one({ kind: 'details', data: given });
}

export const clockOffset = (_: RunState, { offsetMs }: Of<'clockOffset'>): Decision =>
	Number.isFinite(offsetMs) ? one({ kind: 'clockOffset', data: { offsetMs } }) : refuse('notANumber');

export const gap = (_: RunState, { seq, answer }: Of<'gap'>): Decision =>
	one({ kind: 'choice', data: { ask: 'gap', seq, answer } });

export const message = (_: RunState, { to, text }: Of<'message'>): Decision =>
	text.trim() === '' ? refuse('emptyText', { field: 'message' }) : one({ kind: 'message', data: { to, text } });

export const correct = (_: RunState, { event, field, was, is, why }: Of<'correct'>): Decision =>
	one({ kind: 'corrected', data: { event, field, was, is, why } });

/** Gives the pen: it stays here until the other takes it (R18). */
export const handOver = (_: RunState, { to }: Of<'handOver'>): Decision =>
	to.trim() === '' ? refuse('emptyText', { field: 'to' }) : one({ kind: 'penGiven', data: { to } });

/** Takes the pen; on this device too if it was given to another person. */
export const takePen = (state: RunState, _: Of<'takePen'>, { device }: DecideContext): Decision =>
	state.pen.device === device && state.pen.givenTo === null
		? refuse('penIsHere')
		: one({ kind: 'penTaken', data: { from: state.pen.device, device } });
