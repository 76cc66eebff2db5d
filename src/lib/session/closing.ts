import * as m from '$lib/paraglide/messages';
import type { PublicKey, Signer } from '$lib/ports/signer';
import { closingOf } from '$lib/record/close';
import type { Countersigned } from '$lib/record/countersign';
import type { Draft, JournalEvent } from '$lib/run/events';
import type { RunState } from '$lib/run/state';

const hasEnded = ({ status }: RunState): boolean => status === 'complete' || status === 'aborted';

/**
 * The `closed` event that an ended run is due, signed where the device has a key: at its end, and again behind each fact or
 * correction that was added since. Null where the run goes on, is closed already, or another device has the pen.
 */
export async function closingDraft(state: RunState, events: readonly JournalEvent[], device: string, signer: Signer | null): Promise<Draft | null> {
	if (!hasEnded(state) || state.closed || state.pen.device !== device) return null;
	return { kind: 'closed', data: await closingOf(events, signer) };
}

/** A person's signature over all events as they stand, or why there is none, thrown as a sentence. */
export type SignAsPerson = (events: readonly JournalEvent[], deviceKey: PublicKey) => Promise<Countersigned>;

/** One more closing of a closed run, with a person's signature beside the device's. Throws with a sentence where that can't be. */
export async function countersignedDraft(state: RunState, events: readonly JournalEvent[], device: string, signer: Signer | null, sign: SignAsPerson): Promise<Draft> {
	if (!hasEnded(state) || !state.closed) throw new Error(m.countersign_not_closed());
	if (state.pen.device !== device) throw new Error(m.countersign_elsewhere({ device: state.pen.device }));
	if (!signer) throw new Error(m.countersign_no_key());
	const { name, key, signature } = await sign(events, signer.key);
	return { kind: 'closed', data: await closingOf(events, signer, [{ name, key, signature }]) };
}
