import { utf8ToBytes } from '@noble/hashes/utils.js';
import type { Exporting } from './exporting';
import { exportName } from './file-names';
import type { Chunk, Format, Journals } from './formats';
import { joinBytes } from './join-bytes';
import type { ReadJournal } from './read-journal';
import { reportOf } from './report';
import { type ZipEntry, zipOf } from './zip-writing';

/**
 * Many runs in one file: as the format has it, else as a ZIP archive with a file a run, one run in memory at a time. Ending and
 * media type of the file go with it.
 */
export function manyRuns(journals: Journals, format: Format, exporting: Exporting): { readonly ending: string; readonly type: string; readonly content: AsyncIterable<Chunk> } {
	const { ending, type } = format;
	if (format.many) return { ending, type, content: format.write(journals, exporting) };
	return { ending: `${ending}.zip`, type: 'application/zip', content: zipOf(entries(journals, format, exporting)) };
}

async function* entries(journals: Journals, format: Format, exporting: Exporting): AsyncGenerator<ZipEntry> {
	for await (const journal of journals) yield { path: runFileName(journal, format.ending), bytes: await whole(format.write([journal], exporting)), packed: format.ending === 'eln' };
}

/** Name of a run's export. Throws RangeError where there is no event 0. */
export function runFileName(journal: ReadJournal, ending: string): string {
	const { beganAt, title, sample, run } = reportOf(journal);
	return exportName({ beganAt, procedure: title, sample, run }, ending);
}

async function whole(content: AsyncIterable<Chunk>): Promise<Uint8Array> {
	const parts: Uint8Array[] = [];
	for await (const chunk of content) parts.push(typeof chunk === 'string' ? utf8ToBytes(chunk) : chunk);
	return joinBytes(parts);
}
