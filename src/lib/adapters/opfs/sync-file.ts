/** A file opened for synchronous access, as dedicated workers have it (File System Standard, WHATWG; not in the page's DOM types). */
export interface SyncFile {
	getSize(): number;
	read(buffer: Uint8Array, options: { at: number }): number;
	write(buffer: Uint8Array, options: { at: number }): number;
	truncate(size: number): void;
	flush(): void;
	close(): void;
}

interface Opens {
	createSyncAccessHandle?(): Promise<SyncFile>;
}

/** A file that another tab just let go, or is writing, is asked for again: this often, this far apart. */
const TRIES = 40;
const WAIT_MS = 50;

/** Opens a file for writing. Throws a DOMException, NotSupportedError where the browser has no synchronous access. */
export function syncFile(handle: FileSystemFileHandle): Promise<SyncFile> {
	const opens = handle as Opens;
	if (!opens.createSyncAccessHandle) throw new DOMException('no synchronous access to private files', 'NotSupportedError');
	return patiently(() => opens.createSyncAccessHandle!());
}

/** The whole content of a file, also while its writer goes on. */
export const wholeFile = (handle: FileSystemFileHandle): Promise<Uint8Array<ArrayBuffer>> =>
	patiently(async () => new Uint8Array(await (await handle.getFile()).arrayBuffer()));

export const named = (thrown: unknown, ...names: string[]): boolean => thrown instanceof DOMException && names.includes(thrown.name);

async function patiently<T>(what: () => Promise<T>): Promise<T> {
	for (let i = 1; ; i++)
		try {
			return await what();
		} catch (thrown) {
			if (i === TRIES || !named(thrown, 'NoModificationAllowedError', 'NotReadableError', 'InvalidStateError')) throw thrown;
			await new Promise((resolve) => setTimeout(resolve, WAIT_MS));
		}
}

export function readAll(file: SyncFile): Uint8Array<ArrayBuffer> {
	const bytes = new Uint8Array(file.getSize());
	file.read(bytes, { at: 0 });
	return bytes;
}

/** Writes and flushes all of it at a place; what did not fit is cut off again. Throws QuotaExceededError. */
export function writeAll(file: SyncFile, bytes: Uint8Array, at: number): void {
	const cut = () => {
		file.truncate(at);
		file.flush();
	};
	let written: number;
	try {
		written = file.write(bytes, { at });
	} catch (thrown) {
		cut();
		throw thrown;
	}
	if (written < bytes.length) {
		cut();
		throw new DOMException(`only ${written} of ${bytes.length} bytes could be written`, 'QuotaExceededError');
	}
	file.flush();
}
