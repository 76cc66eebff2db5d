import { type Enrolments, personKey } from '$lib/ports/enrolments';
import type { Enrolment } from '$lib/voice/enrolment';

/** For tests. */
export function memoryEnrolments(): Enrolments {
	const kept = new Map<string, Enrolment>();
	return {
		people: () => Promise.resolve([...kept.values()].map(({ person }) => person).toSorted((a, b) => a.localeCompare(b))),
		load: (person) => Promise.resolve(kept.get(personKey(person))),
		save: (enrolment) => Promise.resolve(void kept.set(personKey(enrolment.person), structuredClone(enrolment))),
		remove: (person) => Promise.resolve(void kept.delete(personKey(person)))
	};
}
