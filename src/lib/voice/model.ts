/** The recogniser's files: a list with their hashes, the embedding network, the head. A damaged file is told, not used. */
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import type { Weighing } from './decoder';
import { fromHalf } from './half';

export interface EarsList {
	readonly version: 1;
	readonly words: readonly string[];
	readonly embedding: FileMark;
	readonly head: FileMark;
	readonly weighing: Weighing;
}

interface FileMark {
	readonly file: string;
	readonly sha256: string;
}

export interface EarsModel {
	readonly words: readonly string[];
	readonly embedding: Float32Array;
	readonly head: Float32Array;
	readonly weighing: Weighing;
}

export interface LoadedModel extends EarsModel {
	/** SHA-256 of the embedding network: an operator's takes are of use to this one only. */
	readonly takesOf: string;
}

/** The list's file name, beside which the others lie. */
export const EARS_LIST = 'ears.json';

/** A file of the recogniser that is missing or not what it should be. */
export class DamagedModel extends Error {
	override readonly name = 'DamagedModel';
}

function checked(bytes: Uint8Array, mark: FileMark): Float32Array {
	const found = bytesToHex(sha256(bytes));
	if (found !== mark.sha256) throw new DamagedModel(`${mark.file} is damaged: its SHA-256 is ${found}, expected ${mark.sha256}`);
	return fromHalf(new Uint16Array(new Uint8Array(bytes).buffer));
}

/** Reads the list and, through `read`, the files it names. Throws DamagedModel; what `read` throws passes through. */
export async function loadModel(read: (file: string) => Promise<Uint8Array>): Promise<LoadedModel> {
	const list = JSON.parse(new TextDecoder().decode(await read(EARS_LIST))) as EarsList;
	if (list.version !== 1) throw new DamagedModel(`${EARS_LIST} is of version ${String(list.version)}, expected 1`);
	const [embedding, head] = await Promise.all([list.embedding, list.head].map(async (mark) => checked(await read(mark.file), mark)));
	return { words: list.words, weighing: list.weighing, embedding: embedding!, head: head!, takesOf: list.embedding.sha256 };
}
