import { mkdtemp, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { BadUse } from './command';
import { verifyFiles } from './verify';

const sound = `procedure: two-steps
version: 1.0.0
title: Two steps
summary: Invented.
parts:
  probe: { conditions: [out, in], start: [out], dangerous: [in] }
stages:
  - stage: Only
    id: only
    plan: 2 min
    steps:
      - do: Insert the probe.
        id: insert
        needs: probe out
        sets: probe in
        hazard: { notice: The tip can hit the slot., avoid: Watch the camera., confirm: true }
      - do: Retract the probe.
        id: retract
        needs: probe in
        sets: probe out
        entry: true
ends: { complete: probe out, safe: probe out }
`;

async function run(text: string, ...args: string[]) {
	const file = join(await mkdtemp(join(tmpdir(), 'handrail-')), 'two.yaml');
	await writeFile(file, text);
	let out = '';
	const code = await verifyFiles.run([file, ...args], { out: (more) => void (out += more), err: () => undefined });
	return { code, out, file };
}

describe('handrail verify', () => {
	it('C4: a sound procedure has no fault, exit 0', async () => {
		const { code, out, file } = await run(sound);
		expect(out).toMatch(new RegExp(`^${file}: 0 faults, 0 hints, \\d+ states explored in \\d+ ms\n$`));
		expect(code).toBe(0);
	});
	it('C4: a fault is file:line:column: sentence, with the shortest path in step titles, exit 1', async () => {
		const { code, out, file } = await run(sound.replace('needs: probe in', 'needs: probe out'));
		expect(out).toContain(`${file}:19:16: "Retract the probe." is entered with its requirement unmet (after "Insert the probe."): expected probe out, but: probe in\n    1. Insert the probe.\n`);
		expect(code).toBe(1);
	});
	it('C4: faults of the text are told in the same form', async () => {
		const { code, out, file } = await run(sound.replace('sets: probe in', 'sets: probe inn'));
		expect(out.startsWith(`${file}:15:15: `)).toBe(true);
		expect([code, out.includes('not explored')]).toEqual([1, true]);
	});
	it('C4: hints do not change the exit', async () => {
		const { code, out } = await run(sound.replace('Retract the probe.', 'The probe is retracted.'));
		expect(out).toContain('hint: "The probe is retracted." does not begin with a verb in the imperative');
		expect(code).toBe(0);
	});
	it('C1: --json prints results for machines', async () => {
		const { out } = await run(sound.replace('confirm: true', 'confirm: false'), '--json');
		const [report] = JSON.parse(out) as [{ lines: { rule: string; line: number }[]; statistics: { states: number } }];
		expect(report.lines).toMatchObject([{ rule: 'unconfirmed', line: 16 }]);
		expect(report.statistics.states).toBe(2);
	});
	it('C2: bad use and a missing file are exit 2', async () => {
		const io = { out: () => undefined, err: () => undefined };
		await expect(verifyFiles.run([], io)).rejects.toThrow(BadUse);
		await expect(verifyFiles.run(['none.yaml'], io)).rejects.toThrow('there is no file none.yaml');
		await expect(verifyFiles.run(['none.yaml', '--strict'], io)).rejects.toThrow('"--strict" is not understood; expected --json');
	});
});
