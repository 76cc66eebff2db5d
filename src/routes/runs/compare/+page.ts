import { timelineOf } from '$lib/run/timeline';
import type { PageLoad } from './$types';

/** The runs named in the address, with what could not be opened counted. */
export const load: PageLoad = async ({ url, parent }) => {
	const { device } = await parent();
	const here = new Set(device.runs.map(({ run }) => run));
	const asked = url.searchParams.getAll('run');
	const opened = await Promise.all(asked.filter((run) => here.has(run)).map(async (run) => (await device.store.open(run)).events));
	return { timelines: opened.filter((events) => events.length).map((events) => ({ begun: events[0]!, timeline: timelineOf(events) })), missing: asked.filter((run) => !here.has(run)).length };
};
