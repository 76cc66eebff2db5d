import { describe, expect, it } from 'vitest';
import { SimulatedClock } from '$lib/adapters/clock/simulated-clock';
import { memoryStore } from '$lib/adapters/memory/memory-store';
import { deviceSigner } from '$lib/adapters/signer/device-signer';
import { verifyEd25519 } from '$lib/adapters/signer/verify-ed25519';
import type { JournalStore } from '$lib/ports/journal-store';
import type { Signer } from '$lib/ports/signer';
import { prove } from '$lib/record/prove';
import type { InstrumentUsed } from '$lib/metrology/instrument';
import { beginRun } from '$lib/run/begin';
import { benchEdition } from '../../../tests/simulation/bench-edition';
import { addCorrection } from './correcting';
import { beginWalk, openWalk, type WalkNeeds } from './walk.svelte';

const run = 'a'.repeat(32);
const newSigner = async (): Promise<Signer> => (await deviceSigner({ get: async () => undefined, put: async () => {} }))!;

async function begun({ signer, store = memoryStore(), device = 'tablet (invented)' }: { signer: Signer | null; store?: JournalStore; device?: string }) {
	const clock = new SimulatedClock({ wallMs: Date.UTC(2026, 4, 4, 8), offsetMin: 120 });
	const needs: WalkNeeds = { store, clock, device, signer, onanswer: () => {} };
	const edition = benchEdition();
	const stated = Object.fromEntries(edition.parts.map(({ id, start }) => [id, { is: start[0] ?? '', known: 'seen' as const }]));
	const { drafts } = beginRun({ edition, editionHash: 'e'.repeat(64), key: signer?.key ?? null, person: 'Robin (invented)', left: null, stated, zone: 'Europe/Berlin', invented: true });
	await beginWalk(run, drafts!, 'Robin (invented)', needs);
	return { needs, clock, store };
}
async function endVisit({ needs, clock }: Awaited<ReturnType<typeof begun>>) {
	const { walk } = await openWalk(run, needs);
	clock.advance(60_000);
	await walk.give({ id: 'endVisit', why: 'time', sure: true }, { via: 'key' });
	return walk;
}
const proofIn = async (store: JournalStore) => prove({ events: [...(await store.open(run)).events], fault: null }, verifyEd25519);

describe('R27 the end of a run', () => {
	it('closes the chain and signs it with the key that the genesis names', async () => {
		const signer = await newSigner();
		const begin = await begun({ signer });
		const walk = await endVisit(begin);
		expect(walk.state).toMatchObject({ status: 'aborted', closed: true });
		expect(await proofIn(begin.store)).toMatchObject({ verdict: 'signed', ended: 'aborted', closings: [{ keyFrom: 'genesis', key: signer.key }] });
	});
	it('without a key closes it unsigned', async () => {
		const begin = await begun({ signer: null });
		await endVisit(begin);
		expect((await proofIn(begin.store)).verdict).toBe('unsigned');
	});
	it('a running run is not closed', async () => {
		const begin = await begun({ signer: await newSigner() });
		await openWalk(run, begin.needs);
		expect((await proofIn(begin.store)).verdict).toBe('open');
	});
	it('a correction is appended and signed; the first closing still holds', async () => {
		const begin = await begun({ signer: await newSigner() });
		const walk = await endVisit(begin);
		begin.clock.advance(3600_000);
		await walk.give({ id: 'correct', event: 1, field: 'step', was: 'a', is: 'b', why: 'misheard' }, { via: 'touch' });
		const proof = await proofIn(begin.store);
		expect(proof).toMatchObject({ verdict: 'signed', fault: null, closings: [{ fault: null, signature: 'valid' }, { fault: null, signature: 'valid' }] });
	});
	it('a correction from the timeline is signed too; by a device without the pen it is refused, in words', async () => {
		const begin = await begun({ signer: await newSigner() });
		(await endVisit(begin)).close();
		const correction = { event: 0, field: 'sample', was: 'S-1', is: 'S-2', why: 'misread' };
		const device = { store: begin.store, clock: begin.clock, signer: begin.needs.signer };
		await addCorrection(run, correction, device, begin.needs.device);
		expect(await proofIn(begin.store)).toMatchObject({ verdict: 'signed', closings: [{ fault: null }, { fault: null }] });
		await expect(addCorrection(run, correction, device, 'another')).rejects.toThrow(/\w+ \w+/);
		const lock = await begin.store.lock(run);
		await expect(addCorrection(run, correction, device, begin.needs.device)).rejects.toThrow('another page writes this run');
		lock!.release();
	});
	it('a crash between the end and its closing is made good at the next opening, by the device with the pen only', async () => {
		const begin = await begun({ signer: await newSigner() });
		const failing: JournalStore = { ...begin.store, append: (id, events, lock) => (events[0]?.kind === 'closed' ? Promise.reject(new Error('no room')) : begin.store.append(id, events, lock)) };
		const walk = await endVisit({ ...begin, needs: { ...begin.needs, store: failing } });
		expect(walk.fault?.message).toBe('no room');
		walk.close();
		expect((await proofIn(begin.store)).verdict).toBe('open');
		(await openWalk(run, { ...begin.needs, device: 'another' })).walk.close();
		expect((await proofIn(begin.store)).verdict).toBe('open');
		await openWalk(run, begin.needs);
		expect((await proofIn(begin.store)).verdict).toBe('signed');
	});
	it('a device whose key was lost since the begin signs with its new one and says so', async () => {
		const [old, now] = [await newSigner(), await newSigner()];
		const begin = await begun({ signer: old });
		await endVisit({ ...begin, needs: { ...begin.needs, signer: now } });
		expect(await proofIn(begin.store)).toMatchObject({ verdict: 'signed', closings: [{ keyFrom: 'closing', key: now.key }] });
	});
});

describe('R28 what is known of the instrument', () => {
	it('is written when a run is opened with other settings than its journal says, and only then', async () => {
		const begin = await begun({ signer: null });
		let instrument: InstrumentUsed = { signs: { probeX: 1 } };
		const open = async () => {
			const { walk } = await openWalk(run, { ...begin.needs, instrument: () => instrument });
			walk.close();
			return walk;
		};
		const first = await open();
		expect(first.events.at(-1)).toMatchObject({ kind: 'details', via: 'guide', data: { instrument } });
		expect((await open()).events.length).toBe(first.events.length);
		instrument = { signs: { probeX: -1 }, limitM: 1e-4 };
		expect((await open()).state.instrument).toEqual(instrument);
	});
	it('stands in the genesis of a run that begins with it', () => {
		const edition = benchEdition();
		const stated = Object.fromEntries(edition.parts.map(({ id, start }) => [id, { is: start[0] ?? '', known: 'seen' as const }]));
		const instrument = { signs: { stageZ: -1 as const }, columnAngleRad: 0.9 };
		const { drafts } = beginRun({ edition, editionHash: 'e'.repeat(64), key: null, person: 'Robin (invented)', instrument, left: null, stated, zone: 'Europe/Berlin' });
		expect(drafts?.[0]).toMatchObject({ kind: 'begun', data: { instrument } });
	});
});
