import { savedTemplate } from '$lib/session/own-record.svelte';
import type { PageLoad } from './$types';

/** The template that is kept, and the newest run to show it with. */
export const load: PageLoad = async ({ parent }) => {
	const { device } = await parent();
	const newest = device.runs[0];
	const opened = newest ? await device.store.open(newest.run) : null;
	const journal = opened?.events.length ? { events: [...opened.events], fault: opened.fault && { ...opened.fault, line: opened.fault.seq + 1 } } : null;
	return { template: await savedTemplate(device.settings), journal, title: newest?.title ?? '' };
};
