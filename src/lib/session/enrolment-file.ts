import { fromBase64url, toBase64url } from '$lib/record/base64url';
import { EMBEDDING_SIZE } from '$lib/voice/features/embedding';
import type { EnrolledWord, Enrolment, Take } from '$lib/voice/enrolment';
import { fromHalf, toHalf } from '$lib/voice/half';
import { TAKE_VOICE_NUMBERS, type TakeVoice } from '$lib/voice/operator/take-voice';
import { ALL_WORDS } from './enrolment-plan';

/** One operator's words as a JSON file: vectors in half precision, no sound. */
const FORMAT = 'handrail words';
const VERSION = 1;
/** Fifty words of three long takes are a tenth of it. */
const LARGEST_BYTES = 8 * 1024 * 1024;
const MOST_WORDS = 200;
const MOST_TAKES = 12;
const MOST_STEPS = 60;
const LONGEST_NAME = 200;

const coded = (numbers: ArrayLike<number>): string => {
	const halves = toHalf(Float32Array.from(numbers));
	return toBase64url(new Uint8Array(halves.buffer, halves.byteOffset, halves.byteLength));
};

const sides = ({ clean, noisy, voice }: Take) => [coded(clean), coded(noisy), ...(voice ? [{ of: voice.of, evidence: coded(voice.evidence), levelDb: voice.levelDb, pitch: voice.pitch }] : [])];

/** Whose words count is this device's affair, like its microphone, and stays here. */
export const toEnrolmentFile = ({ person, model, changedAt, words }: Enrolment): string =>
	JSON.stringify({ format: FORMAT, version: VERSION, person, model, changedAt, words: words.map(({ takes, ...word }) => ({ ...word, takes: takes.map(sides) })) }) + '\n';

export const enrolmentFileName = (person: string): string => `${person.replace(/[^\p{L}\p{N}]+/gu, '-').replace(/^-|-$/g, '').toLowerCase() || 'words'}.words.json`;

type Thing = Readonly<Record<string, unknown>>;

function thing(value: unknown, where: string): Thing {
	if (typeof value !== 'object' || value === null || Array.isArray(value)) throw new RangeError(`${where} is not an object`);
	return value as Thing;
}
function list(value: unknown, where: string, most: number): readonly unknown[] {
	if (!Array.isArray(value)) throw new RangeError(`${where} is not a list`);
	if (value.length > most) throw new RangeError(`${where} has ${value.length} entries; expected at most ${most}`);
	return value;
}
function text(value: unknown, where: string, pattern?: RegExp): string {
	if (typeof value !== 'string' || value.trim() === '' || value.length > LONGEST_NAME || (pattern && !pattern.test(value))) throw new RangeError(`${where} is not what it should be: ${JSON.stringify(value)?.slice(0, 60) ?? 'missing'}`);
	return value;
}

/** Vectors of so many numbers, at most so many of them. */
function numbers(value: unknown, where: string, size = EMBEDDING_SIZE, most = MOST_STEPS): Float32Array {
	const bytes = typeof value === 'string' ? fromBase64url(value) : null;
	if (!bytes || bytes.length === 0 || bytes.length % (2 * size) !== 0) throw new RangeError(`${where} is damaged: expected vectors of ${size} numbers`);
	if (bytes.length > 2 * size * most) throw new RangeError(`${where} is longer than any word`);
	const made = fromHalf(new Uint16Array(new Uint8Array(bytes).buffer));
	if (made.some((x) => !Number.isFinite(x))) throw new RangeError(`${where} holds what is no number`);
	return made;
}

function take(value: unknown, where: string): Take {
	const all = list(value, `${where},`, 3);
	if (all.length < 2) throw new RangeError(`${where} has ${all.length} sides; expected 2, and what it tells of the voice`);
	const told = all[2] === undefined ? {} : { voice: voice(all[2], `${where}, voice`) };
	return { clean: numbers(all[0], `${where}, clean,`), noisy: numbers(all[1], `${where}, in noise,`), ...told };
}

function voice(value: unknown, where: string): TakeVoice {
	const one = thing(value, where);
	const number = (name: string, least: number, most: number): number => {
		const given = one[name];
		if (typeof given !== 'number' || !(given >= least && given <= most)) throw new RangeError(`${where}, ${name}, is not what it should be: expected a number from ${least} to ${most}`);
		return given;
	};
	return {
		of: text(one['of'], `${where}, mark,`, /^[0-9a-f]{64}$/),
		evidence: numbers(one['evidence'], `${where}, evidence,`, TAKE_VOICE_NUMBERS, 1),
		levelDb: number('levelDb', -120, 20),
		pitch: one['pitch'] === null ? null : number('pitch', 0, 14)
	};
}

function word(value: unknown, where: string): EnrolledWord {
	const one = thing(value, where);
	const name = text(one['word'], `${where}, word,`);
	if (!ALL_WORDS.includes(name)) throw new RangeError(`${where} stands for “${name}”, which is no command's word`);
	const takes = list(one['takes'], `${where}, takes,`, MOST_TAKES).map((each, i) => take(each, `${where}, take ${i + 1}`));
	return { word: name, takes, ...(one['said'] === undefined ? {} : { said: text(one['said'], `${where}, said,`) }) };
}

/** Throws RangeError with a sentence where the file is foreign, damaged or hostile. */
export function fromEnrolmentFile(bytes: ArrayBuffer): Enrolment {
	if (bytes.byteLength > LARGEST_BYTES) throw new RangeError(`the file has ${bytes.byteLength} bytes; expected at most ${LARGEST_BYTES}`);
	const read = thing(parsed(bytes), 'the file');
	if (read['format'] !== FORMAT) throw new RangeError(`the file holds no words of an operator: its format is ${JSON.stringify(read['format'])?.slice(0, 60) ?? 'not told'}, expected "${FORMAT}"`);
	if (read['version'] !== VERSION) throw new RangeError(`the file is of version ${JSON.stringify(read['version'])?.slice(0, 20)}; this app reads version ${VERSION}`);
	return {
		person: text(read['person'], 'the person’s name'),
		model: text(read['model'], 'the recogniser’s mark', /^[0-9a-f]{64}$/),
		changedAt: text(read['changedAt'], 'the date', /^\d{4}-\d\d-\d\dT[\d:.]+(Z|[+-]\d\d:\d\d)$/),
		words: list(read['words'], 'words', MOST_WORDS).map((each, i) => word(each, `word ${i + 1}`))
	};
}

function parsed(bytes: ArrayBuffer): unknown {
	try {
		return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
	} catch {
		throw new RangeError('the file is no JSON text');
	}
}
