import { openAsBlob } from 'node:fs';
import { stat } from 'node:fs/promises';
import { lineOf } from '$lib/record/chain';
import { journalText } from '$lib/record/journal-text';
import { fromJson, isJsonExport } from '$lib/record/json';
import { type ImportedRun, readEln } from '$lib/record/read-eln';
import { BadUse } from './command';

/** Larger than this no journal gets; an archive may be larger: its photographs are read one by one. */
const MOST_TEXT = 400 * 1024 * 1024;

/** A run in any of the forms in which it leaves: journal, JSON export, .eln archive. */
export interface RunFile {
	/** The journal file's text, or another text that is none. */
	readonly text: string;
	/** Present for an archive. */
	readonly archive: ImportedRun | null;
}

/** Throws BadUse where there is no such file, RangeError with the reason for an archive or export that is refused. */
export async function readRun(path: string): Promise<RunFile> {
	const blob = await blobOf(path);
	if (await isArchive(blob)) {
		const archive = await readEln(blob);
		return { text: journalText(archive.bytes), archive };
	}
	if (blob.size > MOST_TEXT) throw new RangeError(`the file has ${blob.size} bytes; expected at most ${MOST_TEXT}`);
	const text = journalText(new Uint8Array(await blob.arrayBuffer()));
	return { text: isJsonExport(text) ? linesOf(text) : text, archive: null };
}

/** What an export that breaks holds behind its break is kept out: the fault is told instead. */
function linesOf(text: string): string {
	const { events, fault } = fromJson(text);
	if (fault) throw new RangeError(`the chain breaks at event ${fault.seq}, line ${fault.line}: ${fault.reason}`);
	return events.map((event) => lineOf(event) + '\n').join('');
}

/** ZIP archives begin with "PK". */
async function isArchive(blob: Blob): Promise<boolean> {
	const [p, k] = new Uint8Array(await blob.slice(0, 2).arrayBuffer());
	return p === 0x50 && k === 0x4b;
}

/** Backed by the file: only what is read of it comes into memory. */
async function blobOf(path: string): Promise<Blob> {
	try {
		if (!(await stat(path)).isFile()) throw new BadUse(`${path} is no file; expected an .eln archive, a JSON export or a journal`);
		return await openAsBlob(path);
	} catch (thrown) {
		if (thrown instanceof BadUse) throw thrown;
		throw new BadUse(`${path} can't be read: ${(thrown as Error).message}`);
	}
}
