import type { Signer } from '$lib/ports/signer';
import { closingOf } from '$lib/record/close';
import type { Draft, JournalEvent } from '$lib/run/events';
import type { RunState } from '$lib/run/state';

/**
 * The `closed` event that an ended run is due, signed where the device has a key: at its end, and again behind each fact or
 * correction that was added since. Null where the run goes on, is closed already, or another device has the pen.
 */
export async function closingDraft(state: RunState, events: readonly JournalEvent[], device: string, signer: Signer | null): Promise<Draft | null> {
	const ended = state.status === 'complete' || state.status === 'aborted';
	if (!ended || state.closed || state.pen.device !== device) return null;
	return { kind: 'closed', data: await closingOf(events, signer) };
}
