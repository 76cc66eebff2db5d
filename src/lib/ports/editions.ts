import type { Edition, Localised } from '$lib/procedure/edition';

/** An edition as the shelf lists it. */
export interface EditionEntry {
	readonly id: string;
	readonly version: string;
	readonly hash: string;
	readonly title: Localised;
	readonly summary: Localised;
}

/** Compiled editions on this device. */
export interface Editions {
	list(): Promise<readonly EditionEntry[]>;
	/** Throws where there is none of this id. */
	load(id: string): Promise<Edition>;
}
