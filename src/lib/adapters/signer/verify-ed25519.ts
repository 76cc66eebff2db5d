import type { Verify } from '$lib/ports/signer';

/** Ed25519 by WebCrypto, in browsers (secure contexts) and Node 20 alike. */
export const verifyEd25519: Verify = async (key, signature, message) => {
	try {
		const imported = await crypto.subtle.importKey('jwk', { kty: key['kty']!, crv: key['crv']!, x: key['x']! }, 'Ed25519', false, ['verify']);
		return await crypto.subtle.verify('Ed25519', imported, signature as Uint8Array<ArrayBuffer>, message as Uint8Array<ArrayBuffer>);
	} catch (thrown) {
		// a key that is none; a browser without Ed25519 must not look like a bad signature
		if (thrown instanceof DOMException && thrown.name === 'NotSupportedError') throw thrown;
		if (thrown instanceof DOMException || thrown instanceof TypeError) return false;
		throw thrown;
	}
};
