import * as m from '$lib/paraglide/messages';
import type { Signer } from '$lib/ports/signer';
import { countersign, countersignatureFault, countersignatureText, readCountersignature } from '$lib/record/countersign';
import { prove } from '$lib/record/prove';
import type { ReadJournal } from '$lib/record/read-journal';
import type { SignAsPerson } from './closing';
import type { Device } from './device.svelte';
import { openWalk } from './walk.svelte';

type Needs = Pick<Device, 'store' | 'clock' | 'signer' | 'signerOf' | 'verify'>;

/** Signs a run of this device as a person, with the key of that name made here. Throws with a sentence where that can't be. */
export const countersignHere = (run: string, name: string, device: Needs, deviceName: string): Promise<void> =>
	close(run, device, deviceName, async (events) => countersign(events, name, await keyOf(name, device)));

/** Adds a signature that was made on another device. Throws with a sentence where the file is none, or signs something else. */
export async function bringCountersignature(run: string, file: Blob, device: Needs, deviceName: string): Promise<string> {
	const countersignature = readCountersignature(await file.text());
	await close(run, device, deviceName, async (events, deviceKey) => {
		const fault = await countersignatureFault(countersignature, events, deviceKey, device.verify);
		if (fault !== null) throw new RangeError(fault);
		return countersignature;
	});
	return countersignature.name;
}

/** The signature file for a run that another device wrote and closed: what is signed was proved here first. */
export async function countersignForOther(journal: ReadJournal, name: string, device: Needs): Promise<string> {
	const { verdict } = await prove(journal, device.verify);
	if (verdict !== 'signed') throw new Error(m.countersign_not_proved());
	return countersignatureText(await countersign(journal.events, name, await keyOf(name, device)));
}

async function keyOf(name: string, device: Needs): Promise<Signer> {
	const signer = await device.signerOf(name);
	if (!signer) throw new Error(m.countersign_no_key());
	return signer;
}

async function close(run: string, device: Needs, deviceName: string, sign: SignAsPerson): Promise<void> {
	const { walk, fault } = await openWalk(run, { store: device.store, clock: device.clock, device: deviceName, signer: device.signer, instrument: () => ({}), onanswer: () => {} });
	try {
		if (fault) throw new Error(fault.reason);
		if (!walk.writable) throw new Error(m.correct_locked());
		await walk.countersign(sign);
	} finally {
		walk.close();
	}
}
