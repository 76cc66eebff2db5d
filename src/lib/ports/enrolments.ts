import type { Enrolment } from '$lib/voice/enrolment';

/** What operators' words look like, kept on this device and nowhere else. A person is known by name, whatever the case. */
export interface Enrolments {
	/** Names as they were given, in alphabetical order. */
	people(): Promise<readonly string[]>;
	load(person: string): Promise<Enrolment | undefined>;
	/** In place of what was kept of the same person. */
	save(enrolment: Enrolment): Promise<void>;
	remove(person: string): Promise<void>;
}

export const personKey = (person: string): string => person.normalize('NFC').trim().toLowerCase();
