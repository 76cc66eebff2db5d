import { sha256OfBytes } from '$lib/record/chain';
import type { Device } from './device.svelte';
import type { Guide } from './guide.svelte';

const endings: Readonly<Record<string, string>> = { 'image/jpeg': 'jpg', 'audio/webm': 'webm', 'audio/mp4': 'm4a', 'audio/ogg': 'ogg' };

/** Keeps a photograph or spoken note, then writes it into the journal. Its name sorts, and says step and time. */
export async function attach(guide: Guide, device: Device, bytes: Uint8Array, type: string, what: 'photo' | 'note'): Promise<void> {
	const { run, state } = guide.walk;
	const sha256 = sha256OfBytes(bytes);
	const time = device.clock.now().at.slice(0, 19).replaceAll(':', '');
	const name = `${time}_${state.step.replaceAll(/[^\p{L}\p{N}]+/gu, '-')}_${what}.${endings[type] ?? 'bin'}`;
	await device.store.putAttachment(run, sha256, bytes, type);
	await guide.give({ id: 'attachment', sha256, type, bytes: bytes.length, name }, 'touch');
}
