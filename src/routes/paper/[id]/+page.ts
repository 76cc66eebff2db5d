import { error } from '@sveltejs/kit';
import * as m from '$lib/paraglide/messages';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, parent }) => {
	const { device } = await parent();
	const entry = (await device.editions.list()).find(({ id }) => id === params.id);
	if (!entry) error(404, m.paper_none());
	return { entry, edition: await device.editions.load(entry.id) };
};
