import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, parent }) => {
	const { device } = await parent();
	const { events, fault } = await device.store.open(params.run);
	return { run: params.run, journal: { events: [...events], fault: fault && { ...fault, line: fault.seq + 1 } } };
};
