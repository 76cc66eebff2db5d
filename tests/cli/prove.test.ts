import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { deviceSigner } from '$lib/adapters/signer/device-signer';
import { lineOf } from '$lib/record/chain';
import { closingOf } from '$lib/record/close';
import { countersign } from '$lib/record/countersign';
import type { JournalEvent } from '$lib/run/events';
import { sampleJournal, sampleRun, sealNext } from '../contract/sample-journal';
import { exportJournal } from '../../src/cli/export';
import { prove } from '../../src/cli/prove';

const newSigner = async () => (await deviceSigner({ get: async () => undefined, put: async () => {} }))!;
let folder: string;
let events: JournalEvent[];
const write = (name: string, some: readonly JournalEvent[]) => {
	const path = join(folder, name);
	writeFileSync(path, some.map((event) => lineOf(event) + '\n').join(''));
	return path;
};
beforeAll(async () => {
	folder = mkdtempSync(join(tmpdir(), 'prove-'));
	const open = sampleJournal(sampleRun(3), 6);
	events = [...open, sealNext(sampleRun(3), open, { kind: 'closed', data: await closingOf(open, await newSigner()) })];
});
afterAll(() => rmSync(folder, { recursive: true }));

async function run(...args: string[]) {
	const told = { out: '', err: '' };
	const code = await prove.run(args, { out: (more) => (told.out += more), err: (more) => (told.err += more) });
	return { code, ...told };
}

describe('C11 prove', () => {
	it('tells who, when, which edition, and that it is whole: exit 0', async () => {
		const { code, out } = await run(write('whole.journal.jsonl', events));
		expect(code).toBe(0);
		for (const part of ['proved: whole, closed and signed', 'Sample walk (sample 1,', 'Robin (invented)', events[0]!.at, 'events    7, head', 'signature valid']) expect(out).toContain(part);
	});
	it('names who countersigned', async () => {
		const [device, person] = [await newSigner(), await newSigner()];
		const { name, key, signature } = await countersign(events, 'Kim (invented)', person);
		const data = await closingOf(events, device, [{ name, key, signature }]);
		const { code, out } = await run(write('countersigned.journal.jsonl', [...events, sealNext(sampleRun(3), events, { kind: 'closed', data })]));
		expect([code, out]).toEqual([0, expect.stringContaining(`countersigned by Kim (invented), key ${person.key['x']}: fits`)]);
	});
	it('a cut end is not proved: exit 1', async () => {
		expect(await run(write('cut.journal.jsonl', events.slice(0, 5)))).toMatchObject({ code: 1, out: expect.stringContaining('the end was cut off') as string });
	});
	it('tells at which event it was altered: exit 1', async () => {
		const path = write('altered.journal.jsonl', events);
		writeFileSync(path, readFileSync(path, 'utf8').replace('ok 2', 'ok 3'));
		const { code, out } = await run(path, '--json');
		expect([code, (JSON.parse(out) as { verdict: string; fault: { seq: number } })]).toMatchObject([1, { verdict: 'altered', fault: { seq: 2 } }]);
	});
	it('shows one event with its proof, which is then proved alone', async () => {
		const [journal, to] = [write('one.journal.jsonl', events), join(folder, 'one.json')];
		expect(await run(journal, '--event', '2', '-o', to)).toEqual({ code: 0, out: '', err: '' });
		expect(readFileSync(to, 'utf8')).not.toContain('ok 4');
		expect(await run(to)).toMatchObject({ code: 0, out: expect.stringContaining('proved: event 2') as string });
		writeFileSync(to, readFileSync(to, 'utf8').replace('ok 2', 'ok 3'));
		expect(await run(to)).toMatchObject({ code: 1, out: expect.stringContaining('the event was altered') as string });
	});
	it.each(['eln', 'json'])('proves what was exported as %s, and tells where it was altered', async (as) => {
		const [journal, out] = [write('whole.journal.jsonl', events), join(folder, `out.${as}`)];
		await exportJournal.run([journal, '--as', as, '-o', out], { out: () => {}, err: () => {} });
		expect(await run(out)).toMatchObject({ code: 0, out: expect.stringContaining('proved: whole, closed and signed') as string });
		const bytes = readFileSync(out);
		bytes[Math.floor(bytes.length / 3)]! ^= 1;
		writeFileSync(out, bytes);
		expect(await run(out)).toMatchObject({ code: 1 });
	});
	it.each([
		[[], 'no file named'],
		[['FOLDER/none'], "can't be read"],
		[['FOLDER/whole.journal.jsonl', '--event', 'x'], 'expected the number'],
		[['FOLDER/whole.journal.jsonl', '--event', '6'], 'expected 0 to 5'],
		[['FOLDER/whole.journal.jsonl', '-o', 'x'], '-o goes with --event']
	])('bad use %j is refused', async (args, sentence) => {
		await expect(run(...args.map((arg) => arg.replace('FOLDER', folder)))).rejects.toThrow(sentence);
	});
});
