import { Zip, ZipDeflate, ZipPassThrough } from 'fflate'; // pure JavaScript, so that the same bytes come out of every browser and of Node
import { joinBytes } from './join-bytes';

/** A file of an archive: path inside it, and its bytes; `packed` already: neither photographs nor sound get smaller. */
export interface ZipEntry {
	readonly path: string;
	readonly bytes: Uint8Array;
	readonly packed: boolean;
}

/** Archives beyond this need another structure (ZIP64), which the library does not write. */
const MOST_BYTES = 2 ** 32 - 1;
const MOST_ENTRIES = 65_535;
const CHUNK = 1 << 20;

/**
 * A ZIP archive, chunk by chunk, one entry in memory at a time. All entries carry the format's zero time: its stamps have no zone,
 * and the same content must give the same bytes. Throws RangeError beyond 4 GiB or 65,535 entries.
 */
export async function* zipOf(entries: AsyncIterable<ZipEntry>): AsyncGenerator<Uint8Array> {
	let made: Uint8Array[] = [];
	let [bytes, count] = [0, 0];
	const zip = new Zip((fault, chunk) => {
		if (fault) throw fault;
		made.push(chunk);
	});
	function taken(): Uint8Array {
		const all = joinBytes(made);
		made = [];
		bytes += all.length;
		if (bytes > MOST_BYTES) throw new RangeError('the archive would be larger than 4 GiB; export fewer runs at a time');
		return all;
	}
	for await (const { path, bytes: content, packed } of entries) {
		if (++count > MOST_ENTRIES) throw new RangeError(`the archive would have more than ${MOST_ENTRIES} files; export fewer runs at a time`);
		const file = packed ? new Unpacked(path) : new ZipDeflate(path, { level: 6 });
		file.mtime = new Date(1980, 0, 1);
		zip.add(file);
		for (let from = 0; from === 0 || from < content.length; from += CHUNK) {
			file.push(content.subarray(from, from + CHUNK), from + CHUNK >= content.length);
			yield taken();
		}
	}
	zip.end();
	yield taken();
}

const LONGEST_BLOCK = 65_535;

/**
 * What is packed already, as blocks that are stored within DEFLATE (RFC 1951, section 3.2.4): without copying, and unlike entries
 * that are stored outright it can be read by those who read an archive from its front, where sizes are told only behind.
 */
class Unpacked extends ZipPassThrough {
	override compression = 8;
	protected override process(chunk: Uint8Array, final: boolean): void {
		for (let from = 0; from === 0 || from < chunk.length; from += LONGEST_BLOCK) {
			const block = chunk.subarray(from, from + LONGEST_BLOCK);
			const last = from + LONGEST_BLOCK >= chunk.length;
			const size = block.length;
			this.ondata(null, Uint8Array.of(final && last ? 1 : 0, size & 255, size >> 8, ~size & 255, (~size >> 8) & 255), false);
			this.ondata(null, block as Uint8Array<ArrayBuffer>, final && last);
		}
	}
}
