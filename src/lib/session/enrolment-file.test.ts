import { describe, expect, it } from 'vitest';
import type { Enrolment } from '$lib/voice/enrolment';
import { TAKE_VOICE_NUMBERS, type TakeVoice } from '$lib/voice/operator/take-voice';
import { enrolmentFileName, fromEnrolmentFile, toEnrolmentFile } from './enrolment-file';

const vector = (from: number) => Float32Array.from({ length: 96 * 2 }, (_, i) => from + i / 8);
const enrolment: Enrolment = {
	person: 'Ada Invented',
	model: 'ab'.repeat(32),
	changedAt: '2026-05-04T08:00:00.000+02:00',
	words: [
		{ word: 'next', said: 'weiter', takes: [{ clean: vector(-9), noisy: vector(3) }] },
		{ word: 'stop', takes: [] }
	]
};
const bytes = (text: string) => new TextEncoder().encode(text).buffer;
/** The file with one thing changed. */
const changed = (change: (file: Record<string, never> & { words: { word: unknown; said?: unknown; takes: unknown[][] }[] }) => unknown) => {
	const file = JSON.parse(toEnrolmentFile(enrolment));
	change(file);
	return bytes(JSON.stringify(file));
};

const wholeVoice = Buffer.from(new Uint16Array(TAKE_VOICE_NUMBERS).buffer).toString('base64url');
const notNumbers = Buffer.from(new Uint16Array(96).fill(0x7e00).buffer).toString('base64url');

describe('E10 an operator’s words as a file', () => {
	it('come back as they were, to half precision', () => {
		expect(fromEnrolmentFile(bytes(toEnrolmentFile(enrolment)))).toEqual(enrolment);
	});
	it('come back with what each take tells of the voice; whose words count stays behind', () => {
		const voice: TakeVoice = { of: 'cd'.repeat(32), evidence: Float32Array.from({ length: TAKE_VOICE_NUMBERS }, (_, i) => i / 4), levelDb: -21.5, pitch: null };
		const told = { ...enrolment, words: [{ word: 'next', takes: [{ clean: vector(-9), noisy: vector(3), voice }, { clean: vector(-9), noisy: vector(3) }] }] };
		expect(fromEnrolmentFile(bytes(toEnrolmentFile({ ...told, operatorOnly: true })))).toEqual(told);
	});
	it('are named after the person, whatever the letters', () => {
		expect([enrolmentFileName('Ada Invented'), enrolmentFileName('Žofie/../x'), enrolmentFileName('…')]).toEqual(['ada-invented.words.json', 'žofie-x.words.json', 'words.words.json']);
	});
	it.each<[string, ArrayBuffer, string]>([
		['no JSON', bytes('RIFF....'), 'the file is no JSON text'],
		['no UTF-8', Uint8Array.of(0xff, 0xfe, 0x00).buffer, 'the file is no JSON text'],
		['a list', bytes('[]'), 'the file is not an object'],
		['another format', changed((f) => Object.assign(f, { format: 'x' })), 'its format is "x", expected "handrail words"'],
		['another version', changed((f) => Object.assign(f, { version: 2 })), 'of version 2'],
		['nobody', changed((f) => Object.assign(f, { person: ' ' })), 'the person’s name is not what it should be'],
		['a mark that is none', changed((f) => Object.assign(f, { model: '../../x' })), 'the recogniser’s mark'],
		['a date that is none', changed((f) => Object.assign(f, { changedAt: '<b>' })), 'the date is not'],
		['a foreign word', changed((f) => Object.assign(f.words[0]!, { word: 'format the disk' })), 'word 1 stands for “format the disk”, which is no command\'s word'],
		['a name as long as a book', changed((f) => Object.assign(f.words[0]!, { said: 'x'.repeat(999) })), 'word 1, said,'],
		['a take of one side', changed((f) => f.words[0]!.takes[0]!.pop()), 'word 1, take 1 has 1 sides'],
		['a take of four sides', changed((f) => f.words[0]!.takes[0]!.push('', '')), 'word 1, take 1, has 4 entries; expected at most 3'],
		['a voice that is none', changed((f) => f.words[0]!.takes[0]!.push('loud')), 'word 1, take 1, voice is not an object'],
		['a voice without a mark', changed((f) => f.words[0]!.takes[0]!.push({})), 'word 1, take 1, voice, mark, is not what it should be'],
		['half a voice', changed((f) => f.words[0]!.takes[0]!.push({ of: 'cd'.repeat(32), evidence: 'AAAA', levelDb: -20, pitch: 7 })), 'word 1, take 1, voice, evidence, is damaged'],
		['a voice louder than any', changed((f) => f.words[0]!.takes[0]!.push({ of: 'cd'.repeat(32), evidence: wholeVoice, levelDb: 900, pitch: 7 })), 'word 1, take 1, voice, levelDb, is not what it should be'],
		['half a vector', changed((f) => (f.words[0]!.takes[0]![1] = 'AAAA')), 'word 1, take 1, in noise, is damaged'],
		['what is no number', changed((f) => (f.words[0]!.takes[0]![0] = notNumbers)), 'word 1, take 1, clean, holds what is no number'],
		['too many words', changed((f) => Object.assign(f, { words: Array(201).fill(f.words[1]) })), 'words has 201 entries; expected at most 200'],
		['a file too large', new ArrayBuffer(9 * 1024 * 1024), 'expected at most']
	])('%s is refused with a sentence', (_, file, sentence) => {
		expect(() => fromEnrolmentFile(file)).toThrow(sentence);
		expect(() => fromEnrolmentFile(file)).toThrow(RangeError);
	});
});
