import type { EditionEntry, Editions } from '$lib/ports/editions';
import type { Edition } from '$lib/procedure/edition';

async function read<T>(path: string): Promise<T> {
	const answer = await fetch(path);
	if (!answer.ok) throw new Error(`${path} could not be read (${answer.status})`);
	return (await answer.json()) as T;
}

/** Editions compiled at build time; the service worker keeps them on the device. */
export const shippedEditions: Editions = {
	list: () => read<readonly EditionEntry[]>('/editions/index.json'),
	load: (id) => read<Edition>(`/editions/${encodeURIComponent(id)}.json`)
};
