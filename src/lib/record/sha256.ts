import { sha256 as portable } from '@noble/hashes/sha2.js'; // audited, synchronous, works without a secure context
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';

/** Node's own where this runs in Node (from 20.16 on it can be asked for without an import that no browser has), in one call: ten times as fast. */
const node = (globalThis as { process?: { getBuiltinModule?: (name: 'node:crypto') => typeof import('node:crypto') } }).process?.getBuiltinModule?.('node:crypto');

/** SHA-256 hex of bytes: how attachments are named. */
export const sha256OfBytes = (bytes: Uint8Array): string => (node ? node.hash('sha256', bytes) : bytesToHex(portable(bytes)));

/** SHA-256 hex of a text's UTF-8 bytes. */
export const sha256Hex = (text: string): string => (node ? node.hash('sha256', text) : bytesToHex(portable(utf8ToBytes(text))));

/** The same of many bytes, by the browser's own where it has one (a secure context), so that the page goes on meanwhile. */
export async function sha256OfMany(bytes: Uint8Array): Promise<string> {
	const subtle: SubtleCrypto | undefined = globalThis.crypto?.subtle;
	return subtle ? bytesToHex(new Uint8Array(await subtle.digest('SHA-256', bytes as Uint8Array<ArrayBuffer>))) : sha256OfBytes(bytes);
}
