import type { StorageReport } from '$lib/ports/journal-store';

/** A visit with fifty photographs of 2 MB, a journal of some 10 MB in each copy, and room to spare. */
const ENOUGH_BYTES = 256 * 1024 * 1024;

/** What is known before asking the browser about its storage. */
export interface Found {
	readonly copies: readonly ('database' | 'file')[];
	/** The browser refused private files although it knows them: so do private windows of some browsers. */
	readonly fileDenied: boolean;
	readonly vanished: readonly string[];
}

/** Asks for storage that lasts and says what a run would meet, before it begins. `storage` is absent outside a secure context. */
export async function storageReport(found: Found, storage: StorageManager | undefined): Promise<StorageReport> {
	const persisted = storage?.persist ? (await storage.persisted()) || (await storage.persist()) : null;
	const { quota, usage } = (await storage?.estimate?.()) ?? {};
	const freeBytes = quota === undefined || usage === undefined ? null : Math.max(0, quota - usage);
	const problems: StorageReport['problems'][number][] = [];
	if (!found.copies.includes('database')) problems.push('no database');
	if (!found.copies.includes('file')) problems.push('no file copy');
	if (found.fileDenied) problems.push('private mode');
	if (!persisted) problems.push('not persistent');
	if (freeBytes !== null && freeBytes < ENOUGH_BYTES) problems.push('nearly full');
	if (found.vanished.length) problems.push('earlier journals lost');
	return { copies: found.copies, persisted, freeBytes, problems };
}
