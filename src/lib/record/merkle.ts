import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, concatBytes, hexToBytes, utf8ToBytes } from '@noble/hashes/utils.js';

/**
 * Merkle trees as in RFC 9162 section 2.1: leaf H(0x00 ‖ data), node H(0x01 ‖ left ‖ right), the left side of every split
 * the largest power of two below the number of leaves. Hashes are hex outside, bytes inside.
 */
const leafHash = (data: Uint8Array) => sha256(concatBytes(Uint8Array.of(0), data));
const nodeHash = (left: Uint8Array, right: Uint8Array) => sha256(concatBytes(Uint8Array.of(1), left, right));

function split(n: number): number {
	let k = 1;
	while (k * 2 < n) k *= 2;
	return k;
}

/** Root over leaf hashes from..to. */
function rootOf(leaves: readonly Uint8Array[], from: number, to: number): Uint8Array {
	if (to - from === 1) return leaves[from]!;
	const middle = from + split(to - from);
	return nodeHash(rootOf(leaves, from, middle), rootOf(leaves, middle, to));
}

const hashed = (leaves: readonly (string | Uint8Array)[]) => leaves.map((leaf) => leafHash(typeof leaf === 'string' ? utf8ToBytes(leaf) : leaf));

/** Section 2.1.1. The root of no leaves is the hash of nothing. */
export function merkleRoot(leaves: readonly (string | Uint8Array)[]): string {
	return bytesToHex(leaves.length ? rootOf(hashed(leaves), 0, leaves.length) : sha256(new Uint8Array()));
}

/** Section 2.1.3.1: the hashes that lead from a leaf to the root, nearest first. Throws RangeError for a leaf that is not there. */
export function inclusionPath(leaves: readonly (string | Uint8Array)[], index: number): string[] {
	if (!Number.isInteger(index) || index < 0 || index >= leaves.length) throw new RangeError(`there is no leaf ${index}; expected 0 to ${leaves.length - 1}`);
	const all = hashed(leaves);
	const path = (from: number, to: number): Uint8Array[] => {
		if (to - from === 1) return [];
		const middle = from + split(to - from);
		return index < middle ? [...path(from, middle), rootOf(all, middle, to)] : [...path(middle, to), rootOf(all, from, middle)];
	};
	return path(0, leaves.length).map(bytesToHex);
}

/** Section 2.1.3.2: whether a leaf stands at `index` among `count` under a root. False for what is no path; never throws on content. */
export function isIncluded(leaf: string | Uint8Array, index: number, count: number, path: readonly string[], root: string): boolean {
	if (!Number.isSafeInteger(index) || !Number.isSafeInteger(count) || index < 0 || index >= count) return false;
	if (!path.every((hash) => typeof hash === 'string' && /^[0-9a-f]{64}$/.test(hash))) return false;
	let [fn, sn, hash] = [index, count - 1, hashed([leaf])[0]!];
	for (const next of path) {
		if (sn === 0) return false;
		const beside = hexToBytes(next);
		if (fn % 2 === 1 || fn === sn) {
			hash = nodeHash(beside, hash);
			while (fn % 2 === 0 && fn !== 0) [fn, sn] = [fn / 2, Math.floor(sn / 2)];
		} else hash = nodeHash(hash, beside);
		[fn, sn] = [Math.floor(fn / 2), Math.floor(sn / 2)];
	}
	return sn === 0 && bytesToHex(hash) === root;
}
