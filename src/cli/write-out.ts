import { randomBytes } from 'node:crypto';
import { open, rename, rm } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import type { Chunk } from '$lib/record/formats';
import { BadUse } from './command';

/**
 * Writes a file beside its place, chunk by chunk, flushed, and renames it: either the whole file is there or nothing new is. Throws
 * BadUse where it can't, or where the content's maker finds that it can't be made (RangeError).
 */
export async function writeOut(path: string, content: Chunk | AsyncIterable<Chunk>): Promise<void> {
	const beside = join(dirname(path), `.${basename(path)}.${randomBytes(6).toString('hex')}.part`);
	try {
		const file = await open(beside, 'wx');
		try {
			for await (const chunk of typeof content === 'string' || content instanceof Uint8Array ? [content] : content) await file.writeFile(chunk);
			await file.sync();
		} finally {
			await file.close();
		}
		await rename(beside, path);
	} catch (thrown) {
		await rm(beside, { force: true });
		if (thrown instanceof RangeError) throw new BadUse(`nothing was written: ${thrown.message}`);
		if (isSystemFault(thrown)) throw new BadUse(`${path} can't be written: ${thrown.message}`);
		throw thrown;
	}
}

const isSystemFault = (thrown: unknown): thrown is NodeJS.ErrnoException => thrown instanceof Error && 'syscall' in thrown;
