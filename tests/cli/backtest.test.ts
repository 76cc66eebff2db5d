import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { backtest } from '../../src/cli/backtest';

const recipes = fileURLToPath(new URL('../fixtures/timing/recipes-three.csv', import.meta.url));
let folder = '';
beforeAll(async () => void (folder = await mkdtemp(join(tmpdir(), 'backtest-'))));
afterAll(() => rm(folder, { recursive: true }));

async function run(...args: string[]) {
	let out = '';
	let err = '';
	const code = await backtest.run(args, { out: (text) => void (out += text), err: (text) => void (err += text) });
	return { code, out, err };
}

/** The header and the rows of a file, the rows chosen by their number below the header. */
async function rowsOf(path: string, keep: (line: string, index: number) => boolean): Promise<string> {
	const [header, ...rows] = (await readFile(path, 'utf8')).trimEnd().split('\n');
	return [header, ...rows.filter(keep)].join('\n') + '\n';
}

describe('handrail backtest', () => {
	it('1. the same file twice is split into five folds by run; every query of every run is answered once', async () => {
		const out = join(folder, 'pace.csv');
		const { code, out: told } = await run(
			'--train',
			recipes,
			'--test',
			recipes,
			'--model',
			'pace',
			'--predictions',
			out,
			'--json'
		);
		expect(code).toBe(0);
		const scores = JSON.parse(told) as Record<string, number>;
		expect(scores).toMatchObject({ folds: 5, seed: 1, everyS: 30, queries: 1116 });
		// printed by the data's own score.py for the file written here
		expect(scores.maeMin!.toFixed(3)).toBe('1.993');
		expect(scores.pinballMin!.toFixed(4)).toBe('0.6769');
		expect(scores.coverage!.toFixed(3)).toBe('0.763');
		const lines = (await readFile(out, 'utf8')).trimEnd().split('\n');
		expect(lines[0]).toBe('run_id,elapsed_s,p10_s,p50_s,p90_s');
		expect(lines).toHaveLength(1117);
		expect(await readdir(folder)).toEqual(['pace.csv']);
	});

	it('2. trains on one file and tests on another; runs in both are left out of training, and that is told', async () => {
		const train = join(folder, 'train.csv');
		const test = join(folder, 'test.csv');
		const ids = [
			...new Set(
				(await readFile(recipes, 'utf8'))
					.split('\n')
					.slice(1, -1)
					.map((line) => line.split(',')[1]!)
			)
		];
		await writeFile(test, await rowsOf(recipes, (line) => ids.indexOf(line.split(',')[1]!) % 4 === 0));
		await writeFile(train, await rowsOf(recipes, (line) => ids.indexOf(line.split(',')[1]!) % 4 !== 0));
		const apart = await run(
			'--train',
			train,
			'--test',
			test,
			'--model',
			'full',
			'--against',
			'pace',
			'--predictions',
			join(folder, 'a.csv'),
			'--json'
		);
		const overlapping = await run(
			'--train',
			recipes,
			'--test',
			test,
			'--model',
			'full',
			'--predictions',
			join(folder, 'b.csv')
		);
		expect(apart.code).toBe(0);
		expect(apart.err).toBe('');
		expect(overlapping.err).toContain('training runs are also test runs and were left out of training');
		expect(await readFile(join(folder, 'b.csv'), 'utf8')).toBe(await readFile(join(folder, 'a.csv'), 'utf8'));
		const told = JSON.parse(apart.out) as {
			folds: null;
			maeByRun: { differenceMin: number; intervalMin: [number, number] };
		};
		expect(told.folds).toBeNull();
		expect(told.maeByRun.intervalMin[0]).toBeLessThan(told.maeByRun.differenceMin);
	});

	it('3. bad rows are listed with their line numbers and nothing is written', async () => {
		const bad = join(folder, 'bad.csv');
		const lines = (await readFile(recipes, 'utf8')).split('\n');
		lines[4] = lines[4]!.replace(/,[^,]*$/, ',soon');
		lines[9] = 'captaincook4d,1';
		await writeFile(bad, lines.join('\n'));
		const out = join(folder, 'none.csv');
		await expect(run('--train', bad, '--test', bad, '--predictions', out)).rejects.toThrow(
			/2 bad rows, nothing written\n {2}line 5: end_s: expected seconds as a number, got "soon"\n {2}line 10: expected 8 cells, got 2$/
		);
		expect(await readdir(folder)).not.toContain('none.csv');
	});

	it.each([
		[['--test', 'x', '--predictions', 'y'], '--train is missing'],
		[
			['--train', 'x', '--test', 'x', '--predictions', 'y', '--model', 'oracle'],
			'--model oracle: expected one of full|shrunk|lognormal|empirical|pace|sum|total'
		],
		[['--train', 'x', '--test', 'x', '--predictions', 'y', '--every', '0'], '--every 0: expected at least 1 second'],
		[
			['--train', 'x', '--test', 'x', '--predictions', 'y', '--folds', '1'],
			'--folds 1: expected a whole number from 2'
		],
		[['--train', 'x', '--train', 'x'], '--train is given twice'],
		[['--trian', 'x'], '"--trian" is not understood'],
		[
			['--train', 'no-such-file.csv', '--test', 'no-such-file.csv', '--predictions', 'y'],
			'no-such-file.csv: cannot be read (ENOENT)'
		]
	])('4. refuses %j', async (args, message) => {
		await expect(run(...args)).rejects.toThrow(message);
	});

	it('5. a file that cannot be written is told', async () => {
		const nowhere = join(folder, 'no', 'such', 'folder.csv');
		await expect(
			run('--train', recipes, '--test', recipes, '--model', 'total', '--predictions', nowhere)
		).rejects.toThrow('cannot be written (ENOENT)');
	});
});
