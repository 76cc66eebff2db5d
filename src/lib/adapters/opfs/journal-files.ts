import type { Beat } from '$lib/ports/journal-store';
import { StoreFault } from '../store-fault';
import { named, readAll, syncFile, type SyncFile, wholeFile, writeAll } from './sync-file';

/**
 * The journal files in the origin private file system, as the worker keeps them: `journals/RUN.journal.jsonl` is the journal
 * file itself, append-only. Everything here runs in a dedicated worker, one call after another.
 */
export class JournalFiles {
	readonly #root: FileSystemDirectoryHandle;
	/** The file that is held open for writing; the browser lets nobody else write it meanwhile. */
	readonly #open = new Map<string, SyncFile>();

	constructor(root: FileSystemDirectoryHandle) {
		this.#root = root;
	}

	/** Throws where files can't be written here: no synchronous access, a private window, a full disk. */
	async probe(): Promise<void> {
		await this.#writeFile(this.#root, 'probe', new TextEncoder().encode('probe'));
	}

	async runs(): Promise<readonly (readonly [string, number])[]> {
		const sizes: [string, number][] = [];
		for await (const [name, handle] of (await this.#folder('journals')).entries()) {
			if (!name.endsWith(ending) || handle.kind !== 'file') continue;
			const run = name.slice(0, -ending.length);
			sizes.push([run, this.#open.get(run)?.getSize() ?? (await (handle as FileSystemFileHandle).getFile()).size]);
		}
		return sizes;
	}

	async bytes(run: string): Promise<Uint8Array<ArrayBuffer>> {
		const open = this.#open.get(run);
		return open ? readAll(open) : this.#readFile('journals', run + ending);
	}

	/** Writes behind exactly `atBytes` bytes and flushes; a part that did not fit is cut off again. */
	async append(run: string, text: string, atBytes: number): Promise<void> {
		const file = await this.#forWriting(run);
		const size = file.getSize();
		if (size !== atBytes) throw new StoreFault('reopen first', `the journal file of run ${run} has ${size} bytes; expected ${atBytes}`);
		writeAll(file, new TextEncoder().encode(text), atBytes);
	}

	/** Keeps the first `keepBytes`, sets what stood there aside if asked, and writes `text` behind. */
	async repair(run: string, keepBytes: number, text: string, setAside: boolean): Promise<void> {
		const file = await this.#forWriting(run);
		if (setAside) await this.#setAside(run, readAll(file));
		file.truncate(keepBytes);
		writeAll(file, new TextEncoder().encode(text), keepBytes);
	}

	async letGo(run: string): Promise<void> {
		this.#open.get(run)?.close();
		this.#open.delete(run);
	}

	async remove(run: string): Promise<void> {
		await this.letGo(run);
		await this.#removeEntry('journals', run + ending);
		await this.#removeEntry('attachments', run);
		await this.#removeEntry('beats', run);
	}

	async putAttachment(run: string, sha256: string, bytes: Uint8Array, type: string): Promise<void> {
		const folder = await (await this.#folder('attachments')).getDirectoryHandle(run, { create: true });
		await this.#writeFile(folder, `${sha256}.type`, new TextEncoder().encode(type));
		await this.#writeFile(folder, sha256, bytes);
	}

	async attachment(run: string, sha256: string): Promise<{ bytes: Uint8Array<ArrayBuffer>; type: string } | null> {
		const bytes = await this.#readFile('attachments', run, sha256);
		return bytes.length ? { bytes, type: new TextDecoder().decode(await this.#readFile('attachments', run, `${sha256}.type`)) } : null;
	}

	/** One write of a fixed length and no flush: survives the browser's end, not the device's. */
	async beat(run: string, beat: Beat): Promise<void> {
		const key = `beat ${run}`;
		const file = this.#open.get(key) ?? (await syncFile(await (await this.#folder('beats')).getFileHandle(run, { create: true })));
		this.#open.set(key, file);
		file.write(new TextEncoder().encode(JSON.stringify(beat).padEnd(BEAT_BYTES)), { at: 0 });
	}

	/** Null where there is none or a crash cut it. */
	async lastBeat(run: string): Promise<Beat | null> {
		const open = this.#open.get(`beat ${run}`);
		const text = new TextDecoder().decode(open ? readAll(open) : await this.#readFile('beats', run));
		try {
			return text ? (JSON.parse(text) as Beat) : null;
		} catch (fault) {
			if (fault instanceof SyntaxError) return null;
			throw fault;
		}
	}

	#folder(name: string): Promise<FileSystemDirectoryHandle> {
		return this.#root.getDirectoryHandle(name, { create: true });
	}

	async #forWriting(run: string): Promise<SyncFile> {
		const open = this.#open.get(run) ?? (await syncFile(await (await this.#folder('journals')).getFileHandle(run + ending, { create: true })));
		this.#open.set(run, open);
		return open;
	}

	async #setAside(run: string, bytes: Uint8Array): Promise<void> {
		const folder = await this.#folder('set-aside');
		let number = 1;
		for await (const name of folder.keys()) if (name.startsWith(run)) number++;
		await this.#writeFile(folder, `${run}.${number}.jsonl`, bytes);
	}

	async #writeFile(folder: FileSystemDirectoryHandle, name: string, bytes: Uint8Array): Promise<void> {
		const file = await syncFile(await folder.getFileHandle(name, { create: true }));
		try {
			file.truncate(0);
			writeAll(file, bytes, 0);
		} finally {
			file.close();
		}
	}

	/** Empty where there is no such file. */
	async #readFile(...path: readonly string[]): Promise<Uint8Array<ArrayBuffer>> {
		try {
			let folder = this.#root;
			for (const name of path.slice(0, -1)) folder = await folder.getDirectoryHandle(name);
			const handle = await folder.getFileHandle(path[path.length - 1]!);
			return await wholeFile(handle);
		} catch (thrown) {
			if (named(thrown, 'NotFoundError')) return new Uint8Array();
			throw thrown;
		}
	}

	async #removeEntry(folder: string, name: string): Promise<void> {
		this.#open.get(`beat ${name}`)?.close();
		this.#open.delete(`beat ${name}`);
		try {
			await (await this.#folder(folder)).removeEntry(name, { recursive: true });
		} catch (thrown) {
			if (!named(thrown, 'NotFoundError')) throw thrown;
		}
	}
}

const ending = '.journal.jsonl';
const BEAT_BYTES = 256;
