import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Command } from '../../src/cli/command';
import { exportJournal } from '../../src/cli/export';
import { importRun } from '../../src/cli/import';
import { eventful, textOf } from '../formats/journals';

const photo = Buffer.from('not really a photograph');
const sha256 = createHash('sha256').update(photo).digest('hex');
let folder: string;
const at = (name: string) => join(folder, name);
let text: string;
beforeEach(() => {
	folder = mkdtempSync(join(tmpdir(), 'import-'));
	const walk = eventful();
	walk.give({ id: 'attachment', sha256, type: 'image/jpeg', bytes: photo.length, name: 'x.jpg' });
	text = textOf(walk);
	writeFileSync(at('run.journal.jsonl'), text);
	mkdirSync(at('photos'));
	writeFileSync(at('photos/any name.jpeg'), photo);
});
afterEach(() => rmSync(folder, { recursive: true }));

async function run(command: Command, ...args: string[]) {
	const told = { out: '', err: '' };
	const code = await command.run(args, { out: (more) => (told.out += more), err: (more) => (told.err += more) });
	return { code, ...told };
}

describe('C12 import', () => {
	it.each(['eln', 'json'])('what was exported as %s comes back byte for byte: exit 0', async (as) => {
		await run(exportJournal, at('run.journal.jsonl'), '--as', as, '--files', at('photos'), '-o', at(`out.${as}`));
		expect(await run(importRun, at(`out.${as}`), '-o', at('back.journal.jsonl'))).toMatchObject({ code: 0, err: '' });
		expect(readFileSync(at('back.journal.jsonl'), 'utf8')).toBe(text);
	});
	it('photographs come back into a folder, under names that sort', async () => {
		await run(exportJournal, at('run.journal.jsonl'), '--as', 'eln', '--files', at('photos'), '-o', at('out.eln'));
		const { code, out } = await run(importRun, at('out.eln'), '-o', at('back.journal.jsonl'), '--files', at('back'));
		expect([code, out]).toEqual([0, expect.stringContaining(', 1 files') as string]);
		expect(readdirSync(at('back')).map((name) => readFileSync(join(at('back'), name)).toString())).toEqual([photo.toString()]);
	});
	it('a damaged archive is refused with the reason: exit 1, nothing written', async () => {
		await run(exportJournal, at('run.journal.jsonl'), '--as', 'eln', '-o', at('out.eln'));
		const bytes = readFileSync(at('out.eln'));
		bytes[Math.floor(bytes.length / 2)]! ^= 1;
		writeFileSync(at('out.eln'), bytes);
		const { code, err } = await run(importRun, at('out.eln'), '-o', at('back.journal.jsonl'));
		expect([code, err]).toEqual([1, expect.stringMatching(/refused: .*(damaged|altered)/) as string]);
		expect(existsSync(at('back.journal.jsonl'))).toBe(false);
	});
	it('a broken journal and a text that is none are refused: exit 1', async () => {
		writeFileSync(at('broken'), text.replace('misheard', 'mishears'));
		expect(await run(importRun, at('broken'), '-o', at('back'))).toMatchObject({ code: 1, err: expect.stringContaining('the event was altered') as string });
		writeFileSync(at('text'), 'hello\n');
		expect(await run(importRun, at('text'), '-o', at('back'))).toMatchObject({ code: 1, err: expect.stringContaining('not JSON') as string });
		expect(existsSync(at('back'))).toBe(false);
	});
	it.each([
		[[], 'no file named'], [['FOLDER/run.journal.jsonl'], '-o is missing'], [['FOLDER/none', '-o', 'x'], "can't be read"], [['FOLDER', '-o', 'x'], 'is no file'],
		[['a', 'b', '-o', 'x'], 'one file at a time'], [['a', '-o'], '-o needs a value'], [['a', '--fast'], 'is not understood']
	])('bad use %j', async (args, sentence) => {
		await expect(run(importRun, ...args.map((arg) => arg.replace('FOLDER', folder)))).rejects.toThrow(sentence);
	});
});
