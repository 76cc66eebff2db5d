import { ed25519 } from '@noble/curves/ed25519.js';
import { beforeAll, describe, expect, it } from 'vitest';
import { deviceSigner } from '$lib/adapters/signer/device-signer';
import { verifyEd25519 } from '$lib/adapters/signer/verify-ed25519';
import type { Signer } from '$lib/ports/signer';
import type { JournalEvent } from '$lib/run/events';
import { sampleJournal, sampleRun, sealNext } from '../../../tests/contract/sample-journal';
import { fromBase64url } from './base64url';
import { lineOf } from './chain';
import { closingMessage, closingOf } from './close';
import { type Countersignature, countersign, countersignatureFault, countersignatureText, readCountersignature } from './countersign';
import { prove } from './prove';
import { readJournal } from './read-journal';

const run = sampleRun(9);
const newSigner = async (): Promise<Signer> => (await deviceSigner({ get: async () => undefined, put: async () => {} }))!;
const proofOf = (events: readonly JournalEvent[]) => prove(readJournal(events.map((event) => lineOf(event) + '\n').join('')), verifyEd25519);

let device: Signer;
let person: Signer;
let closed: JournalEvent[];
let signed: Countersignature;
beforeAll(async () => {
	[device, person] = [await newSigner(), await newSigner()];
	const open = sampleJournal(run, 5);
	closed = [...open, sealNext(run, open, { kind: 'closed', data: await closingOf(open, device) })];
	signed = await countersign(closed, 'Kim (invented)', person);
});

describe('X21 a countersignature', () => {
	it('stands in a closing behind the last one, beside the device’s signature; both hold', async () => {
		const data = await closingOf(closed, device, [{ name: signed.name, key: signed.key, signature: signed.signature }]);
		const proof = await proofOf([...closed, sealNext(run, closed, { kind: 'closed', data })]);
		expect(proof).toMatchObject({ verdict: 'signed', closings: [{ fault: null, countersigned: [] }, { fault: null, signature: 'valid', countersigned: [{ name: 'Kim (invented)', key: person.key, valid: true }] }] });
	});
	it('is a signature by an Ed25519 that is not ours, over what a closing signs', () => {
		expect(ed25519.verify(fromBase64url(signed.signature)!, closingMessage(run, signed), fromBase64url(person.key['x']!)!)).toBe(true);
	});
	it('comes back from its file as it was, and fits the journal as it stands', async () => {
		const back = readCountersignature(countersignatureText(signed));
		expect(back).toEqual(signed);
		expect(await countersignatureFault(back, closed, device.key, verifyEd25519)).toBeNull();
	});
	it('of another run, another state, another root, the device’s own key, or with any bit turned is told', async () => {
		const faultOf = (change: Partial<Countersignature>) => countersignatureFault({ ...signed, ...change }, closed, device.key, verifyEd25519);
		expect(await faultOf({ run: sampleRun(1) })).toMatch(/another run/);
		expect(await faultOf({ count: 5 })).toMatch(/as it was at 5 events; here are 6/);
		expect(await faultOf({ head: '0'.repeat(64) })).toMatch(/must be signed as it stands/);
		expect(await faultOf({ root: '0'.repeat(64) })).toMatch(/another Merkle root/);
		expect(await countersignatureFault(await countersign(closed, 'Kim (invented)', device), closed, device.key, verifyEd25519)).toMatch(/expected a person’s own/);
		expect(await faultOf({ key: (await newSigner()).key })).toMatch(/does not fit/);
		expect(await faultOf({ signature: 'no base64url!' })).toMatch(/does not fit/);
		const bytes = fromBase64url(signed.signature)!;
		for (let bit = 0; bit < bytes.length * 8; bit++) {
			const flipped = bytes.slice();
			flipped[bit >> 3]! ^= 1 << (bit & 7);
			expect(await faultOf({ signature: Buffer.from(flipped).toString('base64url') })).toMatch(/does not fit/);
		}
	});
	it.each([
		['not JSON {', 'it is not JSON'],
		['[]', 'no countersignature'],
		['null', 'no countersignature'],
		['{"format":"another"}', 'no countersignature'],
		['{"format":"handrail-countersignature","version":2}', 'version 2; this version reads 1'],
		['{"format":"handrail-countersignature","version":1}', '"run" is missing'],
		['{"format":"handrail-countersignature","version":1,"run":"a","head":"a","root":"a","name":"a","signature":"a"}', '"count" is missing'],
		['{"format":"handrail-countersignature","version":1,"run":"a","head":"a","root":"a","name":"a","signature":"a","count":1,"key":{"kty":"RSA"}}', 'no Ed25519 key'],
		[`"${'x'.repeat(10_001)}"`, 'at most 10000']
	])('a file that is none is refused: %.60s', (text, sentence) => expect(() => readCountersignature(text)).toThrow(sentence));
});
