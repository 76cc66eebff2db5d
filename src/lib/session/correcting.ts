import * as m from '$lib/paraglide/messages';
import type { Device } from './device.svelte';
import { named } from './named';
import { reasonText } from './telling';
import { openWalk } from './walk.svelte';

/** What of an event is corrected. */
export interface Correction {
	readonly event: number;
	readonly field: string;
	readonly was: string;
	readonly is: string;
	readonly why: string;
}

/**
 * Adds a correction to an ended run; its chain is closed and signed anew. Throws with a sentence where another page writes the run,
 * or the device would not keep it.
 */
export async function addCorrection(run: string, correction: Correction, device: Pick<Device, 'store' | 'clock' | 'signer'>, name: string): Promise<void> {
	const { walk } = await openWalk(run, { store: device.store, clock: device.clock, device: name, signer: device.signer, onanswer: () => {} });
	try {
		if (!walk.writable) throw new Error(m.correct_locked());
		await walk.give({ id: 'correct', ...correction }, { via: 'touch' });
		if (walk.fault) throw walk.fault;
		if (walk.refusal) throw new Error(reasonText(walk.refusal, named(walk.state.edition, 'en'), walk.state.step));
	} finally {
		walk.close();
	}
}
