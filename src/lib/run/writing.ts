import type { DecideContext, Told } from './command';
import { ENVELOPE, type Draft, type JournalEvent } from './events';
import { fold } from './fold';
import type { RunState } from './state';

/** Drafts so far, and the state they lead to. */
export interface Written {
	readonly state: RunState;
	readonly drafts: readonly Draft[];
	readonly told: readonly Told[];
}

/** Stamps by which drafts are tried; the journal stamps them again when they are written. */
export type Trial = Pick<DecideContext, 'now' | 'device' | 'via'>;

export const begin = (state: RunState): Written => ({ state, drafts: [], told: [] });

/** Adds a draft by folding it, so that what is decided is what a reader of the journal will see. */
export function write(written: Written, draft: Draft, { now, device, via }: Trial): Written {
	const { run, seq, person } = written.state;
	const event = {
		v: ENVELOPE,
		run,
		seq: seq + 1,
		...draft,
		...now,
		by: person,
		device,
		via,
		prev: '',
		hash: ''
	} as JournalEvent;
	return { ...written, state: fold(written.state, event), drafts: [...written.drafts, draft] };
}

export const tell = (written: Written, ...told: readonly Told[]): Written => ({
	...written,
	told: [...written.told, ...told]
});
