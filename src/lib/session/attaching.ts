import { sha256OfBytes } from '$lib/record/chain';
import { attachmentName } from '$lib/record/file-names';
import type { Device } from './device.svelte';
import type { Guide } from './guide.svelte';

/** Keeps a photograph or spoken note, then writes it into the journal. Its name sorts, and says step and time. */
export async function attach(guide: Guide, device: Device, bytes: Uint8Array, type: string): Promise<void> {
	const { run, state } = guide.walk;
	const sha256 = sha256OfBytes(bytes);
	const name = attachmentName({ at: device.clock.now().at, seq: state.seq + 1, step: state.step, type });
	await device.store.putAttachment(run, sha256, bytes, type);
	await guide.give({ id: 'attachment', sha256, type, bytes: bytes.length, name }, 'touch');
}
