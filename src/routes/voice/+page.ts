import type { PageLoad } from './$types';

export const load: PageLoad = async ({ parent, url }) => {
	const { device, preferences } = await parent();
	const person = url.searchParams.get('person')?.trim() || preferences.values.person;
	return { person, kept: person ? await device.enrolments.load(person) : undefined, people: await device.enrolments.people() };
};
