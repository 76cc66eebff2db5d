import type { JournalStore } from '$lib/ports/journal-store';
import type { AttachedFiles } from '$lib/record/exporting';

/** Photographs and spoken notes as the device's store keeps them. */
export const storeFiles = (store: JournalStore): AttachedFiles => ({
	has: async (run, sha256) => (await store.attachment(run, sha256)) !== null,
	read: async (run, sha256) => (await store.attachment(run, sha256))?.bytes ?? null
});
