import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { beforeEach, describe, expect, it } from 'vitest';
import { idbEnrolments } from '$lib/adapters/enrolments/idb-enrolments';
import { memoryEnrolments } from '$lib/adapters/enrolments/memory-enrolments';
import type { Enrolment } from '$lib/voice/enrolment';

const enrolment = (person: string, word = 'next'): Enrolment => ({
	person,
	model: 'a'.repeat(64),
	changedAt: '2026-05-04T08:00:00.000+02:00',
	words: [{ word, takes: [{ clean: Float32Array.of(1, -2.5), noisy: Float32Array.of(0.25) }] }]
});

beforeEach(() => void (globalThis.indexedDB = new IDBFactory()));

describe.each([['memory', memoryEnrolments], ['database', idbEnrolments]] as const)('what operators’ words look like, kept: %s', (_, make) => {
	it('E9. is found again by the name, whatever its case and its spaces', async () => {
		const kept = make();
		await kept.save(enrolment('Ada Invented'));
		expect(await kept.load(' ada invented')).toEqual(enrolment('Ada Invented'));
		expect(await kept.load('Ada')).toBeUndefined();
	});
	it('E9. a second saving takes the place of the first, and of nobody else’s', async () => {
		const kept = make();
		await kept.save(enrolment('Ada'));
		await kept.save(enrolment('Bo'));
		await kept.save(enrolment('ADA', 'stop'));
		expect((await kept.load('Ada'))!.words[0]!.word).toBe('stop');
		expect(await kept.people()).toEqual(['ADA', 'Bo']);
	});
	it('E9. removed it is gone, and the others stay', async () => {
		const kept = make();
		await kept.save(enrolment('Ada'));
		await kept.save(enrolment('Bo'));
		await kept.remove('ada');
		await kept.remove('nobody');
		expect(await kept.people()).toEqual(['Bo']);
		expect(await kept.load('Ada')).toBeUndefined();
	});
});
