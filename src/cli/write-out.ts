import { randomBytes } from 'node:crypto';
import { rename, rm, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { BadUse } from './command';

/** Writes a file beside its place, flushed, and renames it: either the whole file is there or nothing new is. Throws BadUse where it can't. */
export async function writeOut(path: string, content: string | Uint8Array): Promise<void> {
	const beside = join(dirname(path), `.${basename(path)}.${randomBytes(6).toString('hex')}.part`);
	try {
		await writeFile(beside, content, { flag: 'wx', flush: true });
		await rename(beside, path);
	} catch (thrown) {
		await rm(beside, { force: true });
		throw new BadUse(`${path} can't be written: ${(thrown as Error).message}`);
	}
}
