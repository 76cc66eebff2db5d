import { sha256OfBytes } from '$lib/record/chain';
import { attachmentName } from '$lib/record/file-names';
import type { Device } from './device.svelte';
import type { Guide } from './guide.svelte';

/** Keeps a photograph or spoken note that is being taken, then writes it into the journal. Its name sorts, and says step and time. */
export async function attach(guide: Guide, device: Device, taking: Promise<{ readonly bytes: Uint8Array; readonly type: string }>): Promise<void> {
	const { hand } = guide;
	const { bytes, type } = await taking;
	const { run, state } = guide.walk;
	const sha256 = sha256OfBytes(bytes);
	const name = attachmentName({ at: device.clock.now().at, seq: state.seq + 1, step: state.step, type });
	await device.store.putAttachment(run, sha256, bytes, type);
	await guide.give({ id: 'attachment', sha256, type, bytes: bytes.length, name }, hand);
}
