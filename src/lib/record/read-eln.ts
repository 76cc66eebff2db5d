import type { JournalEvent } from '$lib/run/events';
import { METADATA } from './crate';
import { JOURNAL_NAME } from './eln';
import { journalText } from './journal-text';
import { readJournal, type ReadJournal } from './read-journal';
import { sha256OfMany } from './sha256';
import { openZip, type SafeZip, type ZipLimits } from './zip-reading';

const MIB = 1024 * 1024;
const LIMITS: ZipLimits = { entries: 10_000, directoryBytes: 4 * MIB, totalBytes: 4096 * MIB };
const MOST_METADATA = 64 * MIB;
const MOST_JOURNAL = 200 * MIB;
/** Larger than any photograph or spoken note; what is checked but not kept is read in the same way. */
const MOST_FILE = 256 * MIB;

/** A run out of an archive. */
export interface ImportedRun {
	/** The journal file's bytes, as they were kept. */
	readonly bytes: Uint8Array;
	readonly journal: ReadJournal;
	/** Photographs and spoken notes that are in the archive, one in memory at a time. */
	files(): AsyncGenerator<{ readonly sha256: string; readonly type: string; readonly name: string; readonly bytes: Uint8Array }>;
}

/**
 * Reads an .eln archive that this program wrote: byte for byte the same journal. Every file that the metadata lists is held
 * against its size and hash. Throws RangeError with the reason for what is damaged, foreign, newer or hostile; memory stays bounded
 * by the largest single file.
 */
export async function readEln(archive: Blob): Promise<ImportedRun> {
	const zip = await openZip(archive, LIMITS);
	const files = listedFiles(await metadataOf(zip));
	const journals = files.filter(({ id }) => id.endsWith(`/${JOURNAL_NAME}`));
	if (!journals.length) throw new RangeError(`the archive has no ${JOURNAL_NAME}: it is an .eln that another program wrote`);
	if (journals.length > 1) throw new RangeError(`the archive has ${journals.length} journals; expected one`);
	const paths = new Map<string, string>();
	let bytes = new Uint8Array();
	for (const file of files) {
		const path = pathOf(zip.root, file.id);
		const content = await zip.read(path, file === journals[0] ? MOST_JOURNAL : MOST_FILE);
		if (file.size !== String(content.length)) throw new RangeError(`"${path}" has ${content.length} bytes; the metadata says ${file.size}`);
		if (file.sha256 !== (await sha256OfMany(content))) throw new RangeError(`"${path}" was altered: its bytes do not fit the hash in the metadata`);
		paths.set(file.sha256, path);
		if (file === journals[0]) bytes = content as Uint8Array<ArrayBuffer>;
	}
	const journal = readJournal(journalText(bytes));
	if (journal.fault) throw new RangeError(`the journal breaks at event ${journal.fault.seq}: ${journal.fault.reason}`);
	return { bytes, journal, files: () => attachedTo(journal.events, paths, zip) };
}

async function* attachedTo(events: readonly JournalEvent[], paths: ReadonlyMap<string, string>, zip: SafeZip): ReturnType<ImportedRun['files']> {
	for (const event of events) {
		if (event.kind !== 'attachment') continue;
		const { sha256, type, name } = event.data;
		const path = paths.get(sha256);
		if (path !== undefined) yield { sha256, type, name, bytes: await zip.read(path, MOST_FILE) };
	}
}

interface Listed {
	readonly id: string;
	readonly size: string;
	readonly sha256: string;
}

async function metadataOf(zip: SafeZip): Promise<readonly Record<string, unknown>[]> {
	const path = `${zip.root}/${METADATA}`;
	if (zip.size(path) === null) throw new RangeError(`the archive has no ${METADATA}; expected an .eln`);
	let value: unknown;
	try {
		value = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(await zip.read(path, MOST_METADATA)));
	} catch (thrown) {
		if (thrown instanceof SyntaxError || thrown instanceof TypeError) throw new RangeError(`${METADATA} is no JSON: ${thrown.message}`, { cause: thrown });
		throw thrown;
	}
	const graph = (value as { '@graph'?: unknown } | null)?.['@graph'];
	if (!Array.isArray(graph) || !graph.every((one) => typeof one === 'object' && one !== null)) throw new RangeError(`${METADATA} has no graph of entities`);
	const entities = graph as Record<string, unknown>[];
	const version = entities.find((one) => one['@id'] === METADATA)?.['version'];
	if (typeof version === 'string' && Number.parseInt(version, 10) > 1) throw new RangeError(`the archive was written by a newer version (${version}); this version reads 1`);
	return entities;
}

/** Files that say their size and hash; those that do not were put in by others and are never read. */
function listedFiles(graph: readonly Record<string, unknown>[]): Listed[] {
	return graph.flatMap(({ '@id': id, '@type': type, contentSize: size, sha256 }) =>
		typeof id === 'string' && id.startsWith('./') && type === 'File' && typeof size === 'string' && typeof sha256 === 'string' ? [{ id, size, sha256 }] : []
	);
}

function pathOf(root: string, id: string): string {
	try {
		return `${root}/${decodeURIComponent(id.slice(2))}`;
	} catch {
		throw new RangeError(`the name ${JSON.stringify(id)} in the metadata is no address`);
	}
}
