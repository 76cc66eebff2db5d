import type { PublicKey, Signer } from '$lib/ports/signer';

/** Where the device keeps a key pair: a browser's database keeps CryptoKeys without ever showing the private half. */
export interface KeyShelf {
	get(): Promise<CryptoKeyPair | undefined>;
	put(pair: CryptoKeyPair): Promise<void>;
}

/** The Ed25519 key of a shelf, the device's or a person's, made at first use and not exportable; null where the browser has none (no secure context, no Ed25519). */
export async function deviceSigner(shelf: KeyShelf): Promise<Signer | null> {
	const subtle: SubtleCrypto | undefined = globalThis.crypto?.subtle;
	if (!subtle) return null;
	let pair = await shelf.get();
	if (!pair) {
		try {
			pair = (await subtle.generateKey('Ed25519', false, ['sign', 'verify'])) as CryptoKeyPair;
		} catch (thrown) {
			if (thrown instanceof DOMException && thrown.name === 'NotSupportedError') return null;
			throw thrown;
		}
		await shelf.put(pair);
	}
	const { privateKey, publicKey } = pair;
	const { kty, crv, x } = await subtle.exportKey('jwk', publicKey);
	const key: PublicKey = { kty: kty!, crv: crv!, x: x! };
	return { key, sign: async (message) => new Uint8Array(await subtle.sign('Ed25519', privateKey, message as Uint8Array<ArrayBuffer>)) };
}
