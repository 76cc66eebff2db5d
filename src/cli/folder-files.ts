import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readdir, readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { AttachedFiles } from '$lib/record/exporting';
import { BadUse } from './command';

/** Photographs and spoken notes that lie in one folder under any names: known by the SHA-256 of what is in them. */
export async function folderFiles(folder: string): Promise<AttachedFiles> {
	const paths = new Map<string, string>();
	for (const name of await names(folder)) {
		const path = join(folder, name);
		if ((await stat(path)).isFile()) paths.set(await sha256Of(path), path);
	}
	return {
		has: async (_, sha256) => paths.has(sha256),
		read: async (_, sha256) => {
			const path = paths.get(sha256);
			return path === undefined ? null : readFile(path);
		}
	};
}

async function names(folder: string): Promise<string[]> {
	try {
		return (await readdir(folder)).sort();
	} catch (thrown) {
		throw new BadUse(`the folder ${folder} can't be read: ${(thrown as Error).message}`);
	}
}

async function sha256Of(path: string): Promise<string> {
	const hash = createHash('sha256');
	for await (const chunk of createReadStream(path)) hash.update(chunk as Uint8Array);
	return hash.digest('hex');
}
