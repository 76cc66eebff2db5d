import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Ajv04 from 'ajv-draft-04';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { toIpynb } from '$lib/record/ipynb';
import { hostile, journals } from './journals';

const schema = JSON.parse(readFileSync(new URL('./schemas/nbformat.v4.5.schema.json', import.meta.url), 'utf8')) as object;
const valid = new Ajv04({ strict: false }).compile(schema);

interface Cell {
	readonly cell_type: string;
	readonly source: readonly string[];
}
const cellsOf = (text: string) => (JSON.parse(text) as { cells: Cell[] }).cells;
const codeOf = (text: string) => cellsOf(text).filter(({ cell_type }) => cell_type === 'code').map(({ source }) => source.join(''));

const python = ['python3', '/usr/bin/python3'].find((one) => spawnSync(one, ['--version']).status === 0);
/** Debian's python3-nbformat, python3-nbclient and python3-ipykernel; where they are absent the test says so and is skipped. */
const notebookPython = ['/usr/bin/python3', 'python3'].find((one) => spawnSync(one, ['-c', 'import nbformat, nbclient, ipykernel']).status === 0);
if (!notebookPython) console.warn('python3-nbformat, python3-nbclient, python3-ipykernel are not installed: notebooks are validated by the schema and their code is run by plain Python only');
if (!python) console.warn('python3 is not installed: notebooks are validated by the schema only');

let folder: string;
beforeAll(() => void (folder = mkdtempSync(join(tmpdir(), 'ipynb-'))));
afterAll(() => rmSync(folder, { recursive: true }));

describe.each(journals())('X11 notebook of a run: %s', (name, journal) => {
	const text = toIpynb(journal);
	it('is valid by nbformat’s own schema, 4.5, and the same bytes each time', () => {
		expect(valid(JSON.parse(text)), JSON.stringify(valid.errors)).toBe(true);
		expect(toIpynb(journal)).toBe(text);
		for (const { source } of cellsOf(text)) for (const line of source.slice(0, -1)) expect(line.endsWith('\n')).toBe(true);
	});
	it.skipIf(!python)('runs cell by cell with the standard library alone', () => {
		// -S keeps site packages out, so that no pandas helps
		const out = execFileSync(python!, ['-S', '-I', '-X', 'utf8', '-c', codeOf(text).join('\n')], { encoding: 'utf8' });
		if (journal.events.length > 5) expect(out).toContain('#');
	});
	it.skipIf(!notebookPython)('is validated by nbformat and executed by nbclient', () => {
		const path = join(folder, `${name.replace(/ /g, '-')}.ipynb`);
		writeFileSync(path, text);
		const script = 'import sys, nbformat\nfrom nbclient import NotebookClient\nn = nbformat.read(sys.argv[1], as_version=4)\nnbformat.validate(n)\nNotebookClient(n, timeout=120, kernel_name="python3").execute()\nprint(sum(len(c.get("outputs", [])) for c in n.cells))';
		const outputs = Number(execFileSync(notebookPython!, ['-c', script, path], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] }));
		expect(outputs).toBeGreaterThanOrEqual(4);
	}, 120_000);
});

describe('X11 hostile words', () => {
	it.skipIf(!python)('come through Python as they were written', () => {
		const [, eventful] = journals()[1]!;
		const out = execFileSync(python!, ['-S', '-I', '-X', 'utf8', '-c', codeOf(toIpynb(eventful))[0]! + '\nprint(json.dumps(run, ensure_ascii=True))'], { encoding: 'utf8' });
		const data = JSON.parse(out) as { readings: { value: number }[]; steps: unknown[] };
		expect(data.readings.map(({ value }) => value)).toEqual([10]);
		expect(hostile.length).toBeGreaterThan(10);
	});
});
