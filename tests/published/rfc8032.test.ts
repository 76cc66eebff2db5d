import { describe, expect, it } from 'vitest';
import { verifyEd25519 } from '$lib/adapters/signer/verify-ed25519';
import { fromBase64url, toBase64url } from '$lib/record/base64url';

/** RFC 8032 (S. Josefsson, I. Liusvaara, EdDSA, January 2017), section 7.1, tests 1 to 3 and SHA(abc), from memory; exact. */
const hex = (text: string) => Uint8Array.from(Buffer.from(text, 'hex'));
const vectors = [
	{
		key: 'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a',
		message: '',
		signature: 'e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b'
	},
	{
		key: '3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c',
		message: '72',
		signature: '92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00'
	},
	{
		key: 'fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025',
		message: 'af82',
		signature: '6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a'
	},
	{
		key: 'ec172b93ad5e563bf4932c70e1245034c35467ef2efd4d64ebf819683467e2bf',
		message: 'ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f',
		signature: 'dc2a4459e7369633a52b1bf277839a00201009a3efbf3ecb69bea2186c26b58909351fc9ac90b3ecfdfbc7c66431e0303dca179c138ac17ad9bef1177331a704'
	}
];
const jwk = (key: string) => ({ kty: 'OKP', crv: 'Ed25519', x: toBase64url(hex(key)) });

describe('RFC 8032 section 7.1', () => {
	it.each(vectors)('key $key', async ({ key, message, signature }) => {
		expect(await verifyEd25519(jwk(key), hex(signature), hex(message))).toBe(true);
		expect(await verifyEd25519(jwk(key), hex(signature), hex(`${message}00`))).toBe(false);
		const flipped = hex(signature);
		flipped[0]! ^= 1;
		expect(await verifyEd25519(jwk(key), flipped, hex(message))).toBe(false);
	});
	it('what is no key or no signature fits nothing', async () => {
		const { key, signature } = vectors[0]!;
		for (const none of [{}, { kty: 'OKP', crv: 'Ed25519', x: '' }, { kty: 'RSA', crv: 'Ed25519', x: jwk(key).x }] as Record<string, string>[]) expect(await verifyEd25519(none, hex(signature), new Uint8Array())).toBe(false);
		expect(await verifyEd25519(jwk(key), new Uint8Array(3), new Uint8Array())).toBe(false);
	});
});

/** RFC 4648 section 10 (from memory), without padding; RFC 8037 appendix A.2's x is the base64url of RFC 8032's first key. */
describe('base64url', () => {
	it.each([['', ''], ['f', 'Zg'], ['fo', 'Zm8'], ['foo', 'Zm9v'], ['foob', 'Zm9vYg'], ['fooba', 'Zm9vYmE'], ['foobar', 'Zm9vYmFy']])('%j is %j', (text, coded) => {
		expect(toBase64url(new TextEncoder().encode(text))).toBe(coded);
		expect(new TextDecoder().decode(fromBase64url(coded)!)).toBe(text);
	});
	it('RFC 8037 appendix A.2', () => expect(jwk(vectors[0]!.key).x).toBe('11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo'));
	it('has one form only: padding, other letters, bits left over are none', () => {
		for (const text of ['Zg==', 'Zh', 'Z', 'Zm9v+', 'Zm 9']) expect(fromBase64url(text)).toBeNull();
	});
});
