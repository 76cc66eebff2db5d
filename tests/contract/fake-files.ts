/**
 * A file system of the OPFS kind in memory, with the rules that matter: one synchronous handle a file, reads while it is
 * open, folders that must exist. Tests may look into it and damage it (`content`).
 */
export interface FakeFiles {
	readonly root: FileSystemDirectoryHandle;
	/** Content by path, `folder/name`. */
	readonly content: Map<string, Uint8Array>;
	/** Bytes that still fit; a write beyond is cut short. */
	freeBytes: number;
	/** As when the browser is killed: open handles are gone. */
	crash(): void;
}

export function fakeFiles(): FakeFiles {
	const content = new Map<string, Uint8Array>();
	const folders = new Set<string>(['']);
	const open = new Set<string>();
	const fake = { content, freeBytes: Infinity, crash: () => open.clear() } as FakeFiles & { freeBytes: number };

	function fileHandle(path: string) {
		return {
			kind: 'file',
			async getFile() {
				const bytes = content.get(path) ?? new Uint8Array();
				return { size: bytes.length, arrayBuffer: async () => bytes.slice().buffer };
			},
			async createSyncAccessHandle() {
				if (open.has(path)) throw new DOMException('held', 'NoModificationAllowedError');
				open.add(path);
				const now = () => content.get(path) ?? new Uint8Array();
				return {
					getSize: () => now().length,
					read(buffer: Uint8Array, { at }: { at: number }) {
						buffer.set(now().subarray(at, at + buffer.length));
						return Math.min(buffer.length, now().length - at);
					},
					write(buffer: Uint8Array, { at }: { at: number }) {
						const fits = Math.min(buffer.length, fake.freeBytes);
						const grown = new Uint8Array(Math.max(now().length, at + fits));
						grown.set(now());
						grown.set(buffer.subarray(0, fits), at);
						content.set(path, grown);
						fake.freeBytes -= fits;
						return fits;
					},
					truncate(size: number) {
						const cut = new Uint8Array(size);
						cut.set(now().subarray(0, size));
						content.set(path, cut);
					},
					flush() {},
					close: () => open.delete(path)
				};
			}
		};
	}

	function folderHandle(path: string): FileSystemDirectoryHandle {
		const at = (name: string) => (path ? `${path}/${name}` : name);
		const inside = () => [...content.keys()].filter((key) => key.startsWith(path ? `${path}/` : '') && !key.slice(path ? path.length + 1 : 0).includes('/'));
		const handle = {
			kind: 'directory',
			async getDirectoryHandle(name: string, { create } = { create: false }) {
				if (create) folders.add(at(name));
				if (!folders.has(at(name))) throw new DOMException(name, 'NotFoundError');
				return folderHandle(at(name));
			},
			async getFileHandle(name: string, { create } = { create: false }) {
				if (create && !content.has(at(name))) content.set(at(name), new Uint8Array());
				if (!content.has(at(name))) throw new DOMException(name, 'NotFoundError');
				return fileHandle(at(name));
			},
			async removeEntry(name: string) {
				const gone = [...content.keys()].filter((key) => key === at(name) || key.startsWith(`${at(name)}/`));
				if (!gone.length && !folders.has(at(name))) throw new DOMException(name, 'NotFoundError');
				gone.forEach((key) => content.delete(key));
				folders.delete(at(name));
			},
			async *entries() {
				for (const key of inside()) yield [key.slice(path.length + 1), fileHandle(key)];
			},
			async *keys() {
				for (const key of inside()) yield key.slice(path.length + 1);
			}
		};
		return handle as unknown as FileSystemDirectoryHandle;
	}
	return Object.assign(fake, { root: folderHandle('') });
}
