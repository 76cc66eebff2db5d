import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readWav } from '$lib/voice/wav';
import { resample } from '$lib/voice/resample';
import { BadUse } from './command';
import { hear } from './hear';

const word = (name: string) => `tests/fixtures/voice/${name}.wav`;

async function run(...args: string[]) {
	let out = '';
	const code = await hear.run(args, { out: (more) => void (out += more), err: () => undefined });
	return { code, lines: out.trim() === '' ? [] : out.trim().split('\n') };
}
const heard = (lines: readonly string[]) => lines.map((line) => (JSON.parse(line) as { heard: string }).heard);

/** Writes a sound as WAV: coding 1 (whole numbers) or 3 (floats), the same in every channel. */
async function wav(samples: Float32Array, { rate = 16000, bits = 16, channels = 1, coding = 1 }): Promise<string> {
	const bytes = bits / 8;
	const file = Buffer.alloc(44 + samples.length * bytes * channels);
	file.write('RIFF', 0).toString();
	file.writeUInt32LE(file.length - 8, 4);
	file.write('WAVEfmt ', 8);
	file.writeUInt32LE(16, 16);
	file.writeUInt16LE(coding, 20);
	file.writeUInt16LE(channels, 22);
	file.writeUInt32LE(rate, 24);
	file.writeUInt32LE(rate * bytes * channels, 28);
	file.writeUInt16LE(bytes * channels, 32);
	file.writeUInt16LE(bits, 34);
	file.write('data', 36);
	file.writeUInt32LE(file.length - 44, 40);
	samples.forEach((sample, i) => {
		for (let channel = 0; channel < channels; channel++) {
			const at = 44 + (i * channels + channel) * bytes;
			if (coding === 3) file.writeFloatLE(sample, at);
			else file.writeIntLE(Math.round(sample * (2 ** (bits - 1) - 1)), at, bytes);
		}
	});
	const path = join(await mkdtemp(join(tmpdir(), 'handrail-')), 'sound.wav');
	await writeFile(path, file);
	return path;
}

describe('handrail hear', () => {
	it('C7: one line a decision: file as given, moment, word, confidence', async () => {
		const { code, lines } = await run(word('next'), word('yes'));
		expect(lines).toHaveLength(2);
		for (const [i, name] of ['next', 'yes'].entries()) {
			const [file, at, said, confidence] = lines[i]!.split('\t');
			expect([file, said]).toEqual([word(name), name]);
			expect(Number(at) % 80).toBe(0);
			expect(Number(at)).toBeGreaterThan(100);
			expect(Number(confidence)).toBeGreaterThan(0.5);
			expect(Number(confidence)).toBeLessThanOrEqual(1);
		}
		expect(code).toBe(0);
	});
	it('C7: --json gives the same as objects', async () => {
		const { lines } = await run('--json', word('four'));
		expect(Object.keys(JSON.parse(lines[0]!) as object)).toEqual(['file', 'at_ms', 'heard', 'confidence']);
		expect(heard(lines)).toEqual(['four']);
	});
	it('C7: --among decides on no other word, and takes any case', async () => {
		expect(heard((await run('--json', '--among', 'YES,stop', word('yes'))).lines)).toEqual(['yes']);
		expect((await run('--among', 'stop,no', word('yes'))).lines).toEqual([]);
	});
	it('C7: a file is heard alike alone and after others', async () => {
		const alone = (await run(word('four'))).lines;
		expect((await run(word('next'), word('yes'), word('four'))).lines.slice(-1)).toEqual(alone);
	});
	it('C7: nothing where nothing is said', async () => {
		expect((await run(await wav(new Float32Array(32000), {}))).lines).toEqual([]);
		expect((await run(await wav(new Float32Array(0), {}))).lines).toEqual([]);
	});
	it('C7: any rate, one channel or two, 16 and 24 bits and floats', async () => {
		const { samples } = readWav(await readFile(word('yes')));
		for (const how of [{ bits: 24 }, { bits: 32, coding: 3 }, { channels: 2 }, { rate: 44100, bits: 24, channels: 2 }, { rate: 48000 }, { rate: 8000 }]) {
			const file = await wav(resample(samples, 16000, how.rate ?? 16000), how);
			expect(heard((await run('--json', file)).lines), JSON.stringify(how)).toEqual(['yes']);
		}
	});
	it('C7: --enrol takes FOLDER/word/*.wav, so that an operator can say another word for a command', async () => {
		const folder = await mkdtemp(join(tmpdir(), 'handrail-'));
		await mkdir(join(folder, 'next'));
		// this operator says "yes" where others say "next"
		for (const take of ['1', '2', '3']) await writeFile(join(folder, 'next', `${take}.wav`), await readFile(word('yes')));
		expect(heard((await run('--json', '--among', 'next,stop', '--enrol', folder, word('yes'))).lines)).toEqual(['next']);
		await mkdir(join(folder, 'wibble'));
		await expect(run('--enrol', folder, word('yes'))).rejects.toThrow('not in the vocabulary: wibble');
		await expect(run('--enrol', join(folder, 'none'), word('yes'))).rejects.toThrow('there is no such folder');
	});
	it('C7: --operator-only passes over a neighbour’s words, but for “stop”, and needs takes that tell a voice', async () => {
		const folder = await mkdtemp(join(tmpdir(), 'handrail-'));
		for (const name of ['next', 'four', 'no']) {
			await mkdir(join(folder, name));
			for (const take of ['1', '2', '3']) await writeFile(join(folder, name, `${take}.wav`), await readFile(word(name)));
		}
		const files = ['next', 'neighbour-next', 'neighbour-stop'].map(word);
		const asked = ['--json', '--among', 'next,stop', '--enrol', folder];
		expect(heard((await run(...asked, ...files)).lines)).toEqual(['next', 'next', 'stop']);
		expect(heard((await run(...asked, '--operator-only', ...files)).lines)).toEqual(['next', 'stop']);
		await rm(join(folder, 'four'), { recursive: true });
		await expect(run(...asked, '--operator-only', ...files)).rejects.toThrow('--operator-only: 6 takes tell whose voice it is; expected at least 9');
		await expect(run('--operator-only', ...files)).rejects.toThrow('--operator-only needs the operator');
	});
	it('C2: what is no such file is a sentence that names it, before anything is written', async () => {
		const folder = await mkdtemp(join(tmpdir(), 'handrail-'));
		const text = join(folder, 'text.wav');
		await writeFile(text, 'not a sound at all, only words');
		let out = '';
		const io = { out: (more: string) => void (out += more), err: () => undefined };
		await expect(hear.run([word('next'), text], io)).rejects.toThrow(new BadUse(`${text} cannot be read: it does not begin as a WAV file (RIFF … WAVE)`));
		await expect(hear.run([join(folder, 'none.wav')], io)).rejects.toThrow('there is no such file');
		await expect(hear.run([await wav(new Float32Array(100), { bits: 8 })], io)).rejects.toThrow('expected 16, 24 or 32-bit whole numbers');
		expect(out).toBe('');
	});
	it('C2: bad use is told with what was expected', async () => {
		await expect(run()).rejects.toThrow('expected one or more WAV files');
		await expect(run('--among', 'stop,wibble', word('yes'))).rejects.toThrow('not in the vocabulary: wibble; expected some of next, step back');
		await expect(run('--loud', word('yes'))).rejects.toThrow('unknown option --loud');
	});
});
