import type { PageLoad } from './$types';
import { loadCutting } from '$lib/session/cutting.svelte';

export const load: PageLoad = async ({ parent }) => {
	const { device } = await parent();
	const entries = await device.editions.list();
	const kept = await loadCutting(device.settings);
	const id = entries.find((entry) => entry.id === kept.edition)?.id ?? entries.find((entry) => entry.id === 'lift-out-visit')?.id ?? entries[0]?.id;
	return { kept, edition: id === undefined ? null : await device.editions.load(id) };
};
