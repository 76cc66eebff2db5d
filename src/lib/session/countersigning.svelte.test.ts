import { beforeEach, describe, expect, it } from 'vitest';
import { SimulatedClock } from '$lib/adapters/clock/simulated-clock';
import { memoryStore } from '$lib/adapters/memory/memory-store';
import { deviceSigner } from '$lib/adapters/signer/device-signer';
import { verifyEd25519 } from '$lib/adapters/signer/verify-ed25519';
import type { JournalStore } from '$lib/ports/journal-store';
import type { Signer } from '$lib/ports/signer';
import { prove } from '$lib/record/prove';
import { beginRun } from '$lib/run/begin';
import { foldAll } from '$lib/run/fold';
import { benchEdition } from '../../../tests/simulation/bench-edition';
import { bringCountersignature, countersignForOther, countersignHere } from './countersigning';
import { beginWalk, openWalk } from './walk.svelte';

const run = 'a'.repeat(32);
const tablet = 'tablet (invented)';
const newSigner = async (): Promise<Signer> => (await deviceSigner({ get: async () => undefined, put: async () => {} }))!;
const clock = new SimulatedClock({ wallMs: Date.UTC(2026, 4, 4, 8), offsetMin: 120 });

async function deviceOf(store: JournalStore = memoryStore()) {
	const people = new Map<string, Signer>();
	const signerOf = async (person: string) => people.get(person) ?? people.set(person, await newSigner()).get(person)!;
	return { store, clock, signer: await newSigner(), signerOf, verify: verifyEd25519 };
}
const journalIn = async (store: JournalStore) => ({ events: [...(await store.open(run)).events], fault: null });
const proofIn = async (store: JournalStore) => prove(await journalIn(store), verifyEd25519);

describe('X21 countersigning', () => {
	let device: Awaited<ReturnType<typeof deviceOf>>;
	const ended = async (end = true) => {
		device = await deviceOf();
		const needs = { ...device, device: tablet, instrument: () => ({}), onanswer: () => {} };
		const edition = benchEdition();
		const stated = Object.fromEntries(edition.parts.map(({ id, start }) => [id, { is: start[0] ?? '', known: 'seen' as const }]));
		const { drafts } = beginRun({ edition, editionHash: 'e'.repeat(64), key: device.signer.key, person: 'Robin (invented)', left: null, stated, zone: 'Europe/Berlin', invented: true });
		await beginWalk(run, drafts!, 'Robin (invented)', needs);
		const { walk } = await openWalk(run, needs);
		clock.advance(60_000);
		if (end) await walk.give({ id: 'endVisit', why: 'time', sure: true }, { via: 'key' });
		walk.close();
	};
	beforeEach(() => ended());

	it('here: one more closing with the person’s key, the run is closed and nothing contradicts', async () => {
		await countersignHere(run, 'Kim (invented)', device, tablet);
		await countersignHere(run, 'Sam (invented)', device, tablet);
		const proof = await proofIn(device.store);
		expect(proof.verdict).toBe('signed');
		expect(proof.closings.map(({ countersigned }) => countersigned.map(({ name, valid }) => [name, valid]))).toEqual([[], [['Kim (invented)', true]], [['Sam (invented)', true]]]);
		expect(proof.closings[1]!.countersigned[0]!.key).not.toEqual(device.signer.key);
		expect(foldAll((await journalIn(device.store)).events)).toMatchObject({ closed: true, contradictions: null });
	});
	it('on another device: the signature travels as a file, and the person’s key stays there', async () => {
		const other = await deviceOf();
		const journal = await journalIn(device.store);
		const file = new Blob([await countersignForOther(journal, 'Kim (invented)', other)]);
		expect(await bringCountersignature(run, file, device, tablet)).toBe('Kim (invented)');
		expect(await proofIn(device.store)).toMatchObject({ verdict: 'signed', closings: [{}, { countersigned: [{ name: 'Kim (invented)', key: (await other.signerOf('Kim (invented)')).key, valid: true }] }] });
		// the same once more: it signs the run as it was
		await expect(bringCountersignature(run, file, device, tablet)).rejects.toThrow(/as it was at \d+ events/);
	});
	it('what can’t be is refused in words, and nothing is written', async () => {
		const before = await device.store.bytes(run);
		const text = await countersignForOther(await journalIn(device.store), 'Kim (invented)', await deviceOf());
		const refused = async (work: Promise<unknown>, why: RegExp) => {
			await expect(work).rejects.toThrow(why);
			expect(await device.store.bytes(run)).toEqual(before);
		};
		await refused(countersignHere(run, 'Kim (invented)', device, 'another'), /written by tablet \(invented\)/);
		await refused(countersignHere(run, 'Kim (invented)', { ...device, signer: null }, tablet), /no key/);
		await refused(countersignHere(run, 'Kim (invented)', { ...device, signerOf: async () => null }, tablet), /no key/);
		await refused(bringCountersignature(run, new Blob(['PK hostile']), device, tablet), /no countersignature/);
		await refused(bringCountersignature(run, new Blob([text.replace(/"signature":"./, '"signature":"-')]), device, tablet), /does not fit/);
		const lock = await device.store.lock(run);
		await refused(countersignHere(run, 'Kim (invented)', device, tablet), /another page/);
		lock!.release();
		const cut = await journalIn(device.store);
		await expect(countersignForOther({ ...cut, events: cut.events.slice(0, -1) }, 'Kim (invented)', device)).rejects.toThrow(/nothing sure to sign/);
	});
	it('a run that goes on is not countersigned', async () => {
		await ended(false);
		await expect(countersignHere(run, 'Kim (invented)', device, tablet)).rejects.toThrow(/has ended/);
	});
});
