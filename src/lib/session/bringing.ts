import type { JournalStore } from '$lib/ports/journal-store';
import type { JournalEvent } from '$lib/run/events';
import { readFile } from './reading-files';

/** What was brought in from a file. */
export interface Brought {
	readonly events: readonly JournalEvent[];
	/** Photographs and spoken notes that came with it. */
	readonly files: number;
}

/**
 * Brings a run in from a journal, a JSON export or an .eln archive. Throws RangeError or StoreFault with a sentence where the file
 * is damaged, foreign or hostile, or the run is here with another chain; then nothing was brought in.
 */
export async function bringFile(file: Blob, store: JournalStore): Promise<Brought> {
	if (!(await isArchive(file))) {
		const events = await readFile(await file.arrayBuffer());
		await store.bring(events);
		return { events, files: 0 };
	}
	const { readEln } = await import('$lib/record/read-eln');
	const run = await readEln(file);
	const { events } = run.journal;
	await store.bring(events);
	let files = 0;
	for await (const { sha256, bytes, type } of run.files()) {
		await store.putAttachment(events[0]!.run, sha256, bytes, type);
		files++;
	}
	return { events, files };
}

/** ZIP archives begin with "PK". */
async function isArchive(file: Blob): Promise<boolean> {
	const [p, k] = new Uint8Array(await file.slice(0, 2).arrayBuffer());
	return p === 0x50 && k === 0x4b;
}
