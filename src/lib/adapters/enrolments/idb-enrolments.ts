import { createStore, del, get, set, values } from 'idb-keyval';
import { type Enrolments, personKey } from '$lib/ports/enrolments';
import type { Enrolment } from '$lib/voice/enrolment';

/** In a database of its own, so that deleting it touches nothing else. */
export function idbEnrolments(): Enrolments {
	const store = createStore('handrail-voices', 'enrolments');
	return {
		people: async () => (await values<Enrolment>(store)).map(({ person }) => person).toSorted((a, b) => a.localeCompare(b)),
		load: (person) => get<Enrolment>(personKey(person), store),
		save: (enrolment) => set(personKey(enrolment.person), enrolment, store),
		remove: (person) => del(personKey(person), store)
	};
}
