import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** What is said, and when it begins, in seconds from the opening of the microphone. */
export type Said = readonly (readonly [atS: number, word: string])[];

const RATE = 16000;
const HEADER = 44;

/** Lays the words of tests/fixtures/voice into one recording, silent between them; returns its path. */
export function timedRecording(said: Said, seconds: number): string {
	const sound = Buffer.alloc(seconds * RATE * 2);
	for (const [atS, word] of said) {
		const wav = readFileSync(`tests/fixtures/voice/${word.replaceAll(' ', '-')}.wav`);
		wav.copy(sound, Math.round(atS * RATE) * 2, HEADER);
	}
	const header = Buffer.alloc(HEADER);
	header.write('RIFF', 0);
	header.writeUInt32LE(36 + sound.length, 4);
	header.write('WAVEfmt ', 8);
	header.writeUInt32LE(16, 16);
	header.writeUInt16LE(1, 20);
	header.writeUInt16LE(1, 22);
	header.writeUInt32LE(RATE, 24);
	header.writeUInt32LE(RATE * 2, 28);
	header.writeUInt16LE(2, 32);
	header.writeUInt16LE(16, 34);
	header.write('data', 36);
	header.writeUInt32LE(sound.length, 40);
	const path = join(mkdtempSync(join(tmpdir(), 'handrail-')), 'said.wav');
	writeFileSync(path, Buffer.concat([header, sound]));
	return path;
}
