import { BlobReader, configure, type FileEntry, ZipReader } from '@zip.js/zip.js'; // reads by the directory, entry by entry, and refuses overlapping ones

/** What is refused before anything is unpacked. An .eln of a run has a few hundred files; ZIP64 and encryption are never needed. */
export interface ZipLimits {
	readonly entries: number;
	readonly directoryBytes: number;
	/** Of all entries together, unpacked, as the directory says; no entry may give more than it says. */
	readonly totalBytes: number;
}

/** An archive whose directory was read and found harmless. */
export interface SafeZip {
	/** The one folder at the root. */
	readonly root: string;
	readonly paths: readonly string[];
	/** Unpacked size as the directory says; null where there is no such file. */
	size(path: string): number | null;
	/** Throws RangeError where the entry is not what the directory says, or larger than `most`. */
	read(path: string, most: number): Promise<Uint8Array>;
}

// a worker made from a blob is what a strict content policy forbids; files are read one by one anyway
configure({ useWebWorkers: false });

/**
 * Opens an archive that anyone may have made. Throws RangeError with the reason for what is no ZIP, has too many or too large
 * entries, names that lead out of the folder, that are the same on some disk, or that are links, and for encryption.
 */
export async function openZip(archive: Blob, limits: ZipLimits): Promise<SafeZip> {
	await checkDirectory(archive, limits);
	const reader = new ZipReader(new BlobReader(archive), { strictness: 'strict', checkSignature: true, checkOverlappingEntry: true });
	const files = new Map<string, FileEntry>();
	const taken = new Set<string>();
	const roots = new Set<string>();
	let total = 0;
	try {
		// names are judged here, where the sentence can say which one and why
		for await (const entry of reader.getEntriesGenerator({ filenameValidation: 'tolerant' })) {
			const refusal = refusalOf(entry.filename) ?? sameName(entry.filename, taken);
			if (refusal) throw new RangeError(refusal);
			if (taken.size > limits.entries) throw new RangeError(`the archive has more than ${limits.entries} files`);
			roots.add(entry.filename.split('/')[0]!);
			if (entry.directory) continue;
			if (entry.encrypted) throw new RangeError(`"${entry.filename}" is encrypted; expected a plain archive`);
			if (entry.symlink) throw new RangeError(`"${entry.filename}" is a link; expected files only`);
			total += entry.uncompressedSize;
			if (total > limits.totalBytes) throw new RangeError(`the archive unpacks to more than ${limits.totalBytes} bytes`);
			files.set(entry.filename, entry);
		}
	} catch (thrown) {
		throw asRefusal(thrown);
	}
	if (roots.size !== 1) throw new RangeError(`the archive has ${roots.size} folders at its root; expected one`);
	return {
		root: [...roots][0]!,
		paths: [...files.keys()],
		size: (path) => files.get(path)?.uncompressedSize ?? null,
		async read(path, most) {
			const entry = files.get(path);
			if (!entry) throw new RangeError(`the archive has no "${path}"`);
			if (entry.uncompressedSize > most) throw new RangeError(`"${path}" has ${entry.uncompressedSize} bytes; expected at most ${most}`);
			return unpacked(entry);
		}
	};
}

const END = 0x06054b50;
const END_BYTES = 22;
const LONGEST_COMMENT = 65_535;

/** The end record (APPNOTE 4.3.16), before the directory itself is brought into memory. */
async function checkDirectory(archive: Blob, { entries, directoryBytes }: ZipLimits): Promise<void> {
	const from = Math.max(0, archive.size - END_BYTES - LONGEST_COMMENT);
	const view = new DataView(await archive.slice(from).arrayBuffer());
	for (let at = view.byteLength - END_BYTES; at >= 0; at--) {
		if (view.getUint32(at, true) !== END) continue;
		const [count, bytes, offset] = [view.getUint16(at + 10, true), view.getUint32(at + 12, true), view.getUint32(at + 16, true)];
		if (count === 0xffff || bytes === 0xffffffff || offset === 0xffffffff) throw new RangeError('the archive is a ZIP64; expected a smaller one');
		if (count > entries) throw new RangeError(`the archive has ${count} files; expected at most ${entries}`);
		if (bytes > directoryBytes) throw new RangeError(`the archive's directory has ${bytes} bytes; expected at most ${directoryBytes}`);
		return;
	}
	throw new RangeError('the file is no ZIP archive, or its end is missing');
}

// eslint-disable-next-line no-control-regex -- they are what is refused
const forbidden = /[\u0000-\u001f\u007f\\:*?"<>|]/;

function refusalOf(path: string): string | null {
	if (forbidden.test(path)) return `the name ${JSON.stringify(path)} has a character that no file name may have`;
	const parts = path.replace(/\/$/, '').split('/');
	return parts.some((part) => part === '' || part === '.' || part === '..') ? `the name ${JSON.stringify(path)} leads out of the archive's folder` : null;
}

/** Two names that a disk may take for one: letters' case and composition do not tell them apart. */
function sameName(path: string, taken: Set<string>): string | null {
	const folded = path.replace(/\/$/, '').normalize('NFC').toLowerCase();
	if (taken.has(folded)) return `the name ${JSON.stringify(path)} stands there twice`;
	taken.add(folded);
	return null;
}

/** Unpacks into exactly the bytes that the directory says; one byte more ends it. */
async function unpacked(entry: FileEntry): Promise<Uint8Array> {
	const bytes = new Uint8Array(entry.uncompressedSize);
	let filled = 0;
	const sink = new WritableStream<Uint8Array>({
		write(chunk) {
			if (filled + chunk.length > bytes.length) throw new RangeError(`"${entry.filename}" unpacks to more than the ${bytes.length} bytes that the archive says`);
			bytes.set(chunk, filled);
			filled += chunk.length;
		}
	});
	try {
		await entry.getData(sink);
	} catch (thrown) {
		throw asRefusal(thrown);
	}
	if (filled !== bytes.length) throw new RangeError(`"${entry.filename}" unpacks to ${filled} bytes; the archive says ${bytes.length}`);
	return bytes;
}

/** Whatever the library throws on content is a damaged archive. */
const asRefusal = (thrown: unknown): RangeError =>
	thrown instanceof RangeError ? thrown : new RangeError(`the archive is damaged: ${thrown instanceof Error ? thrown.message : String(thrown)}`, { cause: thrown });
