import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { BadUse } from '../../src/cli/command';
import { exportJournal } from '../../src/cli/export';
import { fromJson } from '$lib/record/json';
import { lineOf } from '$lib/record/chain';
import { benchEdition } from '../simulation/bench-edition';
import { Walk } from '../simulation/walk';

let folder: string;
let path: string;
let text: string;
beforeEach(() => {
	folder = mkdtempSync(join(tmpdir(), 'export-'));
	path = join(folder, 'run.journal.jsonl');
	const walk = Walk.begin(benchEdition());
	for (let i = 0; i < 3; i++) walk.give({ id: 'next' });
	text = walk.events.map((event) => lineOf(event) + '\n').join('');
	writeFileSync(path, text);
});
afterEach(() => rmSync(folder, { recursive: true }));

async function run(...args: string[]) {
	const told = { out: '', err: '' };
	const code = await exportJournal.run(args, { out: (more) => (told.out += more), err: (more) => (told.err += more) });
	return { code, ...told };
}

describe('C6 export', () => {
	it.each(['md', 'csv', 'json'])('%s goes to stdout, or to a file with the same bytes and nothing beside it', async (as) => {
		const { code, out, err } = await run(path, '--as', as);
		expect([code, err]).toEqual([0, '']);
		expect(out.length).toBeGreaterThan(200);
		const to = join(folder, `out.${as}`);
		expect(await run(path, '--as', as, '-o', to)).toEqual({ code: 0, out: '', err: '' });
		expect(readFileSync(to, 'utf8')).toBe(out);
		expect(readdirSync(folder).sort()).toEqual([`out.${as}`, 'run.journal.jsonl']);
	});
	it.each(['xes', 'ipynb', 'ics', 'html', 'eln', 'parquet'])('%s is written to a file, the same bytes each time', async (as) => {
		const [one, two] = [join(folder, 'one'), join(folder, 'two')];
		expect(await run(path, '--as', as, '-o', one)).toEqual({ code: 0, out: '', err: '' });
		await run(path, '--as', as, '-o', two);
		expect(readFileSync(one).equals(readFileSync(two))).toBe(true);
		expect(readFileSync(one).length).toBeGreaterThan(500);
	});
	it.each(['xes', 'parquet'])('several journals go into one %s', async (as) => {
		const [one, two] = [join(folder, 'one'), join(folder, 'two')];
		await run(path, '--as', as, '-o', one);
		expect(await run(path, path, '--as', as, '-o', two)).toMatchObject({ code: 0 });
		expect(readFileSync(two).length).toBeGreaterThan(readFileSync(one).length);
	});
	it('a fault on the way leaves nothing half-written', async () => {
		const to = join(folder, 'out.xes');
		writeFileSync(to, 'old');
		await expect(run(path, join(folder, 'none'), '--as', 'xes', '-o', to)).rejects.toThrow('there is no file');
		expect([readFileSync(to, 'utf8'), readdirSync(folder).sort()]).toEqual(['old', ['out.xes', 'run.journal.jsonl']]);
	});
	it('replaces an older file whole', async () => {
		const to = join(folder, 'out.json');
		writeFileSync(to, 'old');
		await run(path, '--as', 'json', '-o', to);
		expect(fromJson(readFileSync(to, 'utf8')).fault).toBeNull();
	});
	it('C2 a broken journal is exported up to the break, which is told: exit 1', async () => {
		const lines = text.split('\n');
		writeFileSync(path, [...lines.slice(0, 4), lines[4]!.replace('"via":"key"', '"via":"kex"'), ...lines.slice(5)].join('\n'));
		const { code, out, err } = await run(path, '--as', 'json');
		expect(code).toBe(1);
		expect(err).toContain('the chain breaks at event 4, line 5: the event was altered');
		expect((JSON.parse(out) as { count: number; fault: { seq: number } })).toMatchObject({ count: 4, fault: { seq: 4 } });
	});
	it.each([
		[[], 'no journal named'],
		[['PATH'], '--as is missing; expected one of md, csv, json'],
		[['PATH', '--as', 'doc'], '--as doc; expected one of md'],
		[['PATH', '--as'], '--as needs a value'],
		[['PATH', 'PATH', '--as', 'md'], 'one journal at a time'],
		[['PATH', '--as', 'eln'], 'expected -o OUT'],
		[['PATH', '--as', 'html', '--paper', 'A3'], 'expected A4 or letter'],
		[['PATH', '--as', 'md', '--fast'], '"--fast" is not understood'],
		[['PATH/none', '--as', 'md'], "can't be read"],
		[['FOLDER/none', '--as', 'md'], 'there is no file'],
		[['FOLDER', '--as', 'md'], 'is a folder'],
		[['PATH', '--as', 'md', '-o', 'FOLDER/none/out.md'], "can't be written"]
	])('C2 bad use %j is refused and nothing is written', async (args, sentence) => {
		const filled = args.map((arg) => arg.replace('PATH', path).replace('FOLDER', folder));
		const thrown: unknown = await run(...filled).catch((fault: unknown) => fault);
		expect(thrown).toBeInstanceOf(BadUse);
		expect((thrown as BadUse).message).toContain(sentence);
		expect(readdirSync(folder)).toEqual(['run.journal.jsonl']);
	});
	it('C2 a file without a sound event is refused', async () => {
		writeFileSync(path, '\ufeff' + text);
		await expect(run(path, '--as', 'md')).rejects.toThrow('holds no sound event');
	});
});
