/** The file of eigenvoices with the weights of a decision: a list with its hash, as the recogniser's own files. */
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import { fromHalf, toHalf } from '../half';
import { DamagedModel } from '../model';
import { CEPSTRA, CLASSES, Eigenvoices, type EigenvoicesNumbers, SIZE, VOICES } from './eigenvoices';

/** How a word's likeness to the operator is weighed (operator-check.ts). */
export interface VoiceWeighing {
	/** One for each number of the comparison, then the constant. */
	readonly weights: readonly number[];
	/** Logarithm of odds from which a word counts as the operator's. */
	readonly threshold: number;
}

export interface VoicesList {
	readonly version: 1;
	readonly file: string;
	readonly sha256: string;
	readonly weighing: VoiceWeighing;
}

export interface LoadedVoices {
	/** Marked by the SHA-256 of their file. */
	readonly eigenvoices: Eigenvoices;
	readonly weighing: VoiceWeighing;
}

export const VOICES_LIST = 'voices.json';

const PARTS = [['spread', CEPSTRA], ['shares', CLASSES], ['means', CLASSES * SIZE], ['variances', CLASSES * SIZE], ['voices', CLASSES * SIZE * VOICES]] as const;

export function toVoicesFile(numbers: EigenvoicesNumbers): Uint8Array {
	return new Uint8Array(toHalf(Float32Array.from(PARTS.flatMap(([part]) => Array.from(numbers[part])))).buffer);
}

function fromVoicesFile(bytes: Uint8Array): EigenvoicesNumbers {
	const all = fromHalf(new Uint16Array(new Uint8Array(bytes).buffer));
	let at = 0;
	const next = (length: number) => all.subarray(at, (at += length));
	const parts = Object.fromEntries(PARTS.map(([part, length]) => [part, next(length)])) as Record<(typeof PARTS)[number][0], Float32Array>;
	if (at !== all.length) throw new DamagedModel(`the file of voices has ${all.length} numbers; expected ${at}`);
	return parts;
}

/** Reads the list and, through `read`, the file it names. Throws DamagedModel; what `read` throws passes through. */
export async function loadVoices(read: (file: string) => Promise<Uint8Array>): Promise<LoadedVoices> {
	const list = JSON.parse(new TextDecoder().decode(await read(VOICES_LIST))) as VoicesList;
	if (list.version !== 1) throw new DamagedModel(`${VOICES_LIST} is of version ${String(list.version)}, expected 1`);
	const bytes = await read(list.file);
	const mark = bytesToHex(sha256(bytes));
	if (mark !== list.sha256) throw new DamagedModel(`${list.file} is damaged: its SHA-256 is ${mark}, expected ${list.sha256}`);
	return { eigenvoices: new Eigenvoices(fromVoicesFile(bytes), mark), weighing: list.weighing };
}
