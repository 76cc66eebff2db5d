import type { Verify } from '$lib/ports/signer';

/** What an export needs besides journals. */
export interface Exporting {
	/** Photographs and spoken notes. */
	readonly files: AttachedFiles;
	readonly verify: Verify;
	readonly paper: Paper;
}

/** Where the photographs and spoken notes of runs lie, by the SHA-256 of their bytes. */
export interface AttachedFiles {
	has(run: string, sha256: string): Promise<boolean>;
	/** Null where it is not here. */
	read(run: string, sha256: string): Promise<Uint8Array | null>;
}

export const noFiles: AttachedFiles = { has: async () => false, read: async () => null };

export type Paper = 'A4' | 'letter';
