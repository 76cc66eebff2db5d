import type { Chance } from '$lib/ports/chance';

/** Ids from the browser's random source. */
export const browserChance: Chance = {
	id: () => [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, '0')).join('')
};
