import { mkdtemp, readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { BadUse } from './command';
import { replay } from './replay';

const golden = fileURLToPath(new URL('../../tests/golden/every-kind.journal.jsonl', import.meta.url));

async function run(...args: string[]) {
	let out = '';
	let err = '';
	const code = await replay.run(args, { out: (text) => void (out += text), err: (text) => void (err += text) });
	return { code, out, err };
}

/** A journal file of the first lines of the frozen one, changed. */
async function file(change: (lines: string[]) => string): Promise<string> {
	const lines = (await readFile(golden, 'utf8')).split('\n').slice(0, -1);
	const path = join(await mkdtemp(join(tmpdir(), 'handrail-')), 'a.journal.jsonl');
	await writeFile(path, change(lines));
	return path;
}
const joined = (lines: readonly string[]) => lines.map((line) => `${line}\n`).join('');

describe('handrail replay', () => {
	it('C5: prints state, parts and times of a sound journal, exit 0', async () => {
		const { code, out, err } = await run(await file((lines) => joined(lines.slice(0, 12))));
		expect([code, err]).toEqual([0, '']);
		expect(out).toContain('Invented visit 1, by Robin (invented), under Kim (invented)');
		expect(out).toContain('running, event 11, at load/pump');
		expect(out).toContain('lock: pumped (by step)');
		expect(out).toContain('load: 1 min 26 s, paused 12 s; planned 3 min 00 s');
	});

	it('C5: where the chain breaks, it says at which event, prints what stands before it, exit 1', async () => {
		const path = await file((lines) =>
			joined(lines.map((line, i) => (i === 8 ? line.replace('rough', 'tough') : line)))
		);
		const { code, out, err } = await run(path);
		expect(code).toBe(1);
		expect(err).toBe(
			`${path}: the chain breaks at event 8, line 9: the event was altered: its hash does not fit its content; 8 sound events stand before it\n`
		);
		expect(out).toContain('event 7, at load/pump');
	});

	it('C5: an event that contradicts the ones before it is told, exit 1', async () => {
		const { code, err } = await run(golden);
		expect(code).toBe(1);
		expect(err.split('\n').filter(Boolean)).toHaveLength(2);
		expect(err).toContain('event 73 ("aborted") contradicts the ones before it and is left out: notInThisState');
	});

	it('C1: --json prints the same for machines', async () => {
		const { out } = await run(golden, '--json');
		const told = JSON.parse(out) as Record<string, unknown>;
		expect(told).toMatchObject({
			status: 'complete',
			events: 75,
			fault: null,
			notUnderstood: { weather: 1 },
			parts: { lock: { is: 'vented', known: 'by step' } }
		});
	});

	it('C2: bad use is told in a sentence', async () => {
		for (const [args, words] of [
			[[], 'no journal named'],
			[['nowhere.jsonl'], 'there is no file'],
			[[golden, '--yaml'], '"--yaml" is not understood'],
			[[golden, golden], 'one journal at a time']
		] as const) {
			const fault: unknown = await run(...args).catch((thrown: unknown) => thrown);
			expect(fault).toBeInstanceOf(BadUse);
			expect((fault as BadUse).message).toContain(words);
		}
	});

	it('C5: a file without a sound event is at fault', async () => {
		const { code, out, err } = await run(await file(() => ''));
		expect([code, out]).toEqual([1, '']);
		expect(err).toContain('the chain breaks at event 0');
	});
});
