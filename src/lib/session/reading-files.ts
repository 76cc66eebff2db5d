import { fromJson, isJsonExport } from '$lib/record/json';
import { readJournal } from '$lib/record/read-journal';
import type { JournalEvent } from '$lib/run/events';

/** Larger than this no journal gets; refused before it is read. */
const LARGEST_BYTES = 200 * 1024 * 1024;

/**
 * A journal from a file: JSON Lines or our own JSON export. Throws RangeError with a sentence where it is neither, or
 * where its chain breaks: a damaged journal is not brought in.
 */
export async function readFile(bytes: ArrayBuffer): Promise<readonly JournalEvent[]> {
	if (bytes.byteLength > LARGEST_BYTES) throw new RangeError(`the file has ${bytes.byteLength} bytes; expected at most ${LARGEST_BYTES}`);
	const text = decoded(bytes);
	const read = isJsonExport(text) ? fromJson(text) : readJournal(text);
	if (read.fault) throw new RangeError(`the chain breaks at event ${read.fault.seq}: ${read.fault.reason}`);
	return read.events;
}

function decoded(bytes: ArrayBuffer): string {
	try {
		return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
	} catch {
		throw new RangeError('the file is no UTF-8 text; expected a journal');
	}
}
