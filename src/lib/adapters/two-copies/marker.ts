/**
 * "This device has had journals": run ids, kept apart from both copies, by which a vanished run is noticed.
 * Cache Storage, because it is written at once (localStorage and cookies are written seconds late).
 */
export interface Marker {
	runs(): Promise<readonly string[]>;
	add(run: string): Promise<void>;
	drop(run: string): Promise<void>;
}

/** The service worker clears old caches and leaves this one. */
export const MARKER_CACHE = 'handrail-marker';
const prefix = '/has-had/';

export function cacheMarker(caches: CacheStorage, origin: string): Marker {
	const open = () => caches.open(MARKER_CACHE);
	return {
		async runs() {
			const keys = await (await open()).keys();
			return keys.map(({ url }) => new URL(url).pathname.slice(prefix.length));
		},
		add: async (run) => (await open()).put(origin + prefix + run, new Response('')),
		async drop(run) {
			await (await open()).delete(origin + prefix + run);
		}
	};
}

/** Within one page: for tests and for a browser without Cache Storage. */
export function localMarker(): Marker {
	const runs = new Set<string>();
	return {
		runs: async () => [...runs],
		async add(run) {
			runs.add(run);
		},
		async drop(run) {
			runs.delete(run);
		}
	};
}
