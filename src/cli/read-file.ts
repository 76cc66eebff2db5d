import { readFile } from 'node:fs/promises';
import { journalText } from '$lib/record/journal-text';
import { readJournal, type ReadJournal } from '$lib/record/read-journal';
import type { SharedEditions } from '$lib/record/shared-editions';
import { BadUse } from './command';

/** Reads a journal file and verifies its chain. Throws BadUse where there is no such file. */
export async function readJournalFile(path: string, editions?: SharedEditions): Promise<ReadJournal> {
	let bytes: Uint8Array;
	try {
		bytes = await readFile(path);
	} catch (thrown) {
		const { code, message } = thrown as NodeJS.ErrnoException;
		throw new BadUse(code === 'ENOENT' ? `there is no file ${path}` : code === 'EISDIR' ? `${path} is a folder; expected a journal file` : `${path} can't be read: ${message}`);
	}
	return readJournal(journalText(bytes), editions);
}
