import { ed25519 } from '@noble/curves/ed25519.js';
import { beforeAll, describe, expect, it } from 'vitest';
import { verifyEd25519 } from '$lib/adapters/signer/verify-ed25519';
import { deviceSigner } from '$lib/adapters/signer/device-signer';
import type { Signer } from '$lib/ports/signer';
import type { Draft, JournalEvent } from '$lib/run/events';
import { begun, sampleJournal, sampleRun, sealNext } from '../../../tests/contract/sample-journal';
import { fromBase64url, toBase64url } from './base64url';
import { lineOf } from './chain';
import { closingMessage, closingOf } from './close';
import { disclose, disclosureFault, readDisclosure } from './disclose';
import { journalText } from './journal-text';
import { prove } from './prove';
import { readJournal } from './read-journal';

const run = sampleRun(7);
const textOf = (events: readonly JournalEvent[]) => events.map((event) => lineOf(event) + '\n').join('');
const proofOf = (events: readonly JournalEvent[]) => prove(readJournal(textOf(events)), verifyEd25519);

async function signerOf(): Promise<Signer> {
	const signer = await deviceSigner({ get: async () => undefined, put: async () => {} });
	return signer!;
}

/** A run whose genesis names the signer's key, with a few events. */
function runOf(signer: Signer | null, count = 5): JournalEvent[] {
	const draft = { ...begun, data: { ...(begun as Extract<Draft, { kind: 'begun' }>).data, key: signer?.key ?? null } } as Draft;
	const events = [sealNext(run, [], draft)];
	while (events.length < count) events.push(sealNext(run, events, { kind: 'note', data: { text: `note ${events.length}` } }));
	return events;
}
async function close(events: readonly JournalEvent[], signer: Signer | null): Promise<JournalEvent[]> {
	return [...events, sealNext(run, events, { kind: 'closed', data: await closingOf(events, signer) })];
}

let signer: Signer;
beforeAll(async () => {
	signer = await signerOf();
});

describe('X1 a closing', () => {
	it('closes all events before it and is signed by the device’s key', async () => {
		const proof = await proofOf(await close(runOf(signer), signer));
		expect(proof).toMatchObject({ verdict: 'signed', count: 6, fault: null, people: ['Robin (invented)'] });
		expect(proof.closings).toMatchObject([{ seq: 5, fault: null, signature: 'valid', keyFrom: 'genesis' }]);
	});
	it('its signature fits by an Ed25519 that is not ours', async () => {
		const events = await close(runOf(signer), signer);
		const { data } = events[5] as Extract<JournalEvent, { kind: 'closed' }>;
		expect(ed25519.verify(fromBase64url(data.signature!)!, closingMessage(run, data), fromBase64url(signer.key['x']!)!)).toBe(true);
	});
	it('without a key is whole but proves nothing', async () => {
		expect((await proofOf(await close(runOf(null), null))).verdict).toBe('unsigned');
	});
	it('by another device names its key; old proofs do not need the lost one', async () => {
		const other = await signerOf();
		const proof = await proofOf(await close(runOf(signer), other));
		expect(proof).toMatchObject({ verdict: 'signed', closings: [{ keyFrom: 'closing', key: other.key }] });
	});
	it('is followed by a correction only until that is closed and signed too', async () => {
		const closed = await close(runOf(signer), signer);
		const corrected = [...closed, sealNext(run, closed, { kind: 'corrected', data: { event: 1, field: 'text', was: 'note 1', is: 'note one', why: 'misheard' } })];
		expect((await proofOf(corrected)).verdict).toBe('open');
		const proof = await proofOf(await close(corrected, signer));
		expect([proof.verdict, proof.closings.map(({ seq }) => seq)]).toEqual(['signed', [5, 7]]);
	});
	it('may be countersigned; a countersignature that does not fit is told', async () => {
		const events = runOf(signer);
		const data = await closingOf(events, signer);
		const secret = ed25519.utils.randomSecretKey(new Uint8Array(32).fill(3));
		const countersigned = (message: Uint8Array) => [{ name: 'Kim (invented)', key: { kty: 'OKP', crv: 'Ed25519', x: toBase64url(ed25519.getPublicKey(secret)) }, signature: toBase64url(ed25519.sign(message, secret)) }];
		const good = [...events, sealNext(run, events, { kind: 'closed', data: { ...data, countersigned: countersigned(closingMessage(run, data)) } })];
		expect(await proofOf(good)).toMatchObject({ verdict: 'signed', closings: [{ countersigned: [{ name: 'Kim (invented)', valid: true }] }] });
		const bad = [...events, sealNext(run, events, { kind: 'closed', data: { ...data, countersigned: countersigned(closingMessage(run, { ...data, count: 4 })) } })];
		expect((await proofOf(bad)).verdict).toBe('altered');
	});
});

describe('X2 what is not whole', () => {
	it('a cut end leaves the journal open', async () => {
		const events = await close(runOf(signer), signer);
		expect((await proofOf(events.slice(0, -1))).verdict).toBe('open');
		expect((await proofOf(events.slice(0, -3))).verdict).toBe('open');
	});
	it.each([
		['count', { count: 4 }, /closes 4 events; 5 stand before it/],
		['head', { head: 'a'.repeat(64) }, /another head/],
		['root', { root: 'a'.repeat(64) }, /Merkle root does not fit/],
		['signature', { signature: 'A'.repeat(86) }, /signature does not fit/],
		['signature that is none', { signature: '***' }, /signature does not fit/]
	])('a closing with a wrong %s, sealed into a sound chain, is told', async (_, change, reason) => {
		const events = runOf(signer);
		const data = { ...(await closingOf(events, signer)), ...change };
		const proof = await proofOf([...events, sealNext(run, events, { kind: 'closed', data })]);
		expect([proof.verdict, proof.fault]).toEqual(['altered', null]);
		expect(proof.closings[0]!.fault).toMatch(reason);
	});
	it('a run forged whole anew has another key', async () => {
		const forger = await signerOf();
		const proof = await proofOf(await close(runOf(forger), forger));
		expect(proof.closings[0]!.key).not.toEqual(signer.key);
	});
	it('J5 every flipped bit of a small signed journal is found', async () => {
		const bytes = new TextEncoder().encode(textOf(await close(runOf(signer, 2), signer)));
		let found = 0;
		for (let at = 0; at < bytes.length; at++)
			for (let bit = 0; bit < 8; bit++) {
				const flipped = bytes.slice();
				flipped[at]! ^= 1 << bit;
				if (readJournal(journalText(flipped)).fault) found++;
			}
		expect(found).toBe(bytes.length * 8);
	});
});

describe('X3 one event disclosed', () => {
	it('is proved alone, for every event and length, and shows nothing of the others', async () => {
		for (const count of [1, 2, 3, 5, 8, 13]) {
			const events = await close(runOf(signer, count), signer);
			for (let seq = 0; seq < count; seq++) {
				const text = disclose(events, seq);
				expect(await disclosureFault(readDisclosure(text)!, verifyEd25519)).toBeNull();
				for (const other of events) if (other.seq !== seq && other.seq > 0 && other.kind === 'note') expect(text).not.toContain(`"${other.data.text}"`);
			}
		}
	});
	it('is refused where its event, place, path, root or signature was altered', async () => {
		const text = disclose(await close(runOf(signer), signer), 2);
		const value = readDisclosure(text)!;
		const other = readDisclosure(disclose(await close(runOf(signer), signer), 3))!;
		const altered = [
			{ ...value, event: { ...value.event, by: 'someone else' } as JournalEvent },
			{ ...value, event: other.event },
			{ ...value, path: [...value.path].reverse() },
			{ ...value, path: value.path.slice(1) },
			{ ...value, path: [1, 2, 3] as never },
			{ ...value, closing: { ...value.closing, count: 6 } },
			{ ...value, closing: { ...value.closing, root: 'a'.repeat(64) } },
			{ ...value, closing: { ...value.closing, signature: null } },
			{ ...value, key: (await signerOf()).key },
			{ ...value, key: {} }
		];
		for (const one of altered) expect(await disclosureFault(one, verifyEd25519)).not.toBeNull();
	});
	it('needs a closing that covers it', async () => {
		expect(() => disclose(sampleJournal(run, 3), 1)).toThrow('no closing');
		const events = await close(runOf(signer), signer);
		expect(() => disclose(events, 5)).toThrow('expected 0 to 4');
		expect(readDisclosure('{}')).toBeNull();
		expect(readDisclosure('{')).toBeNull();
	});
});
