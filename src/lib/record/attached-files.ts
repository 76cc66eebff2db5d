/** Where the photographs and spoken notes of runs lie, by the SHA-256 of their bytes. */
export interface AttachedFiles {
	has(run: string, sha256: string): Promise<boolean>;
	/** Null where it is not here. */
	read(run: string, sha256: string): Promise<Uint8Array | null>;
}

export const noFiles: AttachedFiles = { has: async () => false, read: async () => null };
