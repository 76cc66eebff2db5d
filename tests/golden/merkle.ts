import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, concatBytes, utf8ToBytes } from '@noble/hashes/utils.js';

/** Merkle tree hash of leaves, RFC 9162 section 2.1.1: leaf H(00‖d), node H(01‖left‖right), split at the largest power of two below n. */
export function merkleRoot(leaves: readonly string[]): string {
	const hash = (list: readonly string[]): Uint8Array => {
		const [only] = list;
		if (only === undefined) return sha256(new Uint8Array());
		if (list.length === 1) return sha256(concatBytes(Uint8Array.of(0), utf8ToBytes(only)));
		let split = 1;
		while (split * 2 < list.length) split *= 2;
		return sha256(concatBytes(Uint8Array.of(1), hash(list.slice(0, split)), hash(list.slice(split))));
	};
	return bytesToHex(hash(leaves));
}
