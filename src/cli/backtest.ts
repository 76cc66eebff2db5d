import { readFile, rename, rm, writeFile } from 'node:fs/promises';
import { pairedDifference } from '$lib/timing/backtest/paired';
import { isModelName, MODELS, type ModelName } from '$lib/timing/backtest/models';
import { predictionsCsv } from '$lib/timing/backtest/predictions-csv';
import { readRecordedCsv } from '$lib/timing/backtest/recorded-csv';
import { recordedRuns, type RecordedRun } from '$lib/timing/backtest/recorded-run';
import { absoluteError, asScoredFromFile, meanPinball, scores, type ScoredQuery } from '$lib/timing/backtest/score';
import { crossValidated, heldOut, type Validation } from '$lib/timing/backtest/validate';
import { BadUse, type Command, type ExitCode } from './command';

interface Options extends Validation {
	readonly train: string;
	readonly test: string;
	readonly model: ModelName;
	readonly against?: ModelName;
	readonly predictions: string;
	readonly folds?: number;
	readonly json: boolean;
}

const NAMES = Object.keys(MODELS).join('|');
const MOST_BAD_ROWS_TOLD = 50;

/** `handrail backtest`: how well the forecast would have done on recorded runs. */
export const backtest: Command = {
	purpose: 'forecasts recorded runs from others and scores the time left',
	usage: [
		'usage: handrail backtest --train A.csv --test B.csv --predictions OUT.csv [--every 30] [--seed 1]',
		`                         [--model ${NAMES}] [--against MODEL] [--folds 5] [--json]`,
		'',
		'A and B: columns run_id, operator_id, procedure, step_name, start_s, end_s. OUT: run_id,elapsed_s,p10_s,p50_s,p90_s, seconds left at',
		'each step start and every so many seconds inside it. Where A and B are the same, or with --folds, the runs of B are split into folds',
		'by the seed (5 where not said) and each fold is forecast from the others and from those of A that are not in B.',
		'--against tells the paired difference to another model with 95 % bootstrap intervals by run and by operator.',
		'Exit: 0 done, 2 bad use or unreadable rows (listed), nothing written.'
	].join('\n'),
	async run(args, io): Promise<ExitCode> {
		const options = parseOptions(args);
		const train = await readRuns(options.train);
		const same = options.train === options.test;
		const test = same ? train : await readRuns(options.test);
		const folds = options.folds ?? (same || train.text === test.text ? 5 : undefined);
		if (folds !== undefined && folds > test.runs.length)
			throw new BadUse(
				`--folds ${folds}: expected at most as many folds as runs, ${options.test} has ${test.runs.length}`
			);
		const testIds = new Set(test.runs.map((run) => run.runId));
		const others = train.runs.filter((run) => !testIds.has(run.runId));
		if (folds === undefined && others.length === 0)
			throw new BadUse(`${options.train}: every run is also in ${options.test}; add --folds`);
		if (folds === undefined && others.length < train.runs.length)
			io.err(`${train.runs.length - others.length} training runs are also test runs and were left out of training\n`);
		const predict = (model: ModelName): ScoredQuery[] =>
			asScoredFromFile(
				folds === undefined
					? heldOut(MODELS[model], others, test.runs, options)
					: crossValidated(MODELS[model], test.runs, folds, options, others)
			);
		const scored = predict(options.model);
		const { against } = options;
		const compared = against && { against, ...comparison(scored, predict(against), options.seed) };
		await writeWhole(options.predictions, predictionsCsv(scored));
		const result = {
			model: options.model,
			folds: folds ?? null,
			seed: options.seed,
			everyS: options.everyS,
			...scores(scored),
			...compared
		};
		io.out(options.json ? JSON.stringify(result, null, '\t') + '\n' : asText(result));
		return 0;
	}
};

function comparison(first: readonly ScoredQuery[], second: readonly ScoredQuery[], seed: number) {
	const byRun = (query: ScoredQuery): string => query.runId;
	const byOperator = (query: ScoredQuery): string => query.operator;
	return {
		maeByRun: pairedDifference(first, second, absoluteError, byRun, seed),
		maeByOperator: pairedDifference(first, second, absoluteError, byOperator, seed),
		pinballByRun: pairedDifference(first, second, meanPinball, byRun, seed),
		pinballByOperator: pairedDifference(first, second, meanPinball, byOperator, seed)
	};
}

function asText(result: ReturnType<typeof scores> & { model: string; folds: number | null; against?: string }): string {
	const { model, folds, queries, maeMin, pinballMin, pinballByLevelMin, coverage, against } = result;
	const levels = pinballByLevelMin.map((level) => level.toFixed(3)).join(', ');
	const lines = [
		`${model}${folds === null ? '' : `, ${folds} folds`}: queries ${queries} MAE_min ${maeMin.toFixed(3)} pinball_min ${pinballMin.toFixed(4)} (${levels}) coverage ${coverage.toFixed(3)}`
	];
	for (const [name, value] of Object.entries(result))
		if (isDifference(value))
			lines.push(
				`${name} against ${against}: ${value.differenceMin.toFixed(4)} min, 95 % ${value.intervalMin.map((end) => end.toFixed(4)).join(' to ')}, ${value.clusters} clusters`
			);
	return lines.join('\n') + '\n';
}

const isDifference = (value: unknown): value is ReturnType<typeof pairedDifference> =>
	typeof value === 'object' && value !== null && 'differenceMin' in value;

function parseOptions(args: readonly string[]): Options {
	const known = ['--train', '--test', '--predictions', '--every', '--seed', '--model', '--against', '--folds'];
	const given = new Map<string, string>();
	let json = false;
	for (let at = 0; at < args.length; at++) {
		const name = args[at] as string;
		if (name === '--json') {
			json = true;
			continue;
		}
		if (!known.includes(name)) throw new BadUse(`"${name}" is not understood; expected ${known.join(', ')} or --json`);
		if (given.has(name)) throw new BadUse(`${name} is given twice`);
		const value = args[++at];
		if (value === undefined) throw new BadUse(`${name}: expected a value after it`);
		given.set(name, value);
	}
	const needed = (name: string): string => {
		const value = given.get(name);
		if (value === undefined) throw new BadUse(`${name} is missing`);
		return value;
	};
	const model = (name: string, otherwise?: ModelName): ModelName | undefined => {
		const value = given.get(name) ?? otherwise;
		if (value !== undefined && !isModelName(value)) throw new BadUse(`${name} ${value}: expected one of ${NAMES}`);
		return value;
	};
	return {
		train: needed('--train'),
		test: needed('--test'),
		predictions: needed('--predictions'),
		everyS: numberOf(given, '--every', 30, (value) => value >= 1, 'at least 1 second'),
		seed: numberOf(given, '--seed', 1, Number.isSafeInteger, 'a whole number'),
		folds: given.has('--folds')
			? numberOf(given, '--folds', 5, (value) => Number.isSafeInteger(value) && value >= 2, 'a whole number from 2')
			: undefined,
		model: model('--model', 'full') as ModelName,
		against: model('--against'),
		json
	};
}

function numberOf(
	given: ReadonlyMap<string, string>,
	name: string,
	otherwise: number,
	fits: (value: number) => boolean,
	expected: string
): number {
	const text = given.get(name);
	if (text === undefined) return otherwise;
	const value = text.trim() === '' ? NaN : Number(text);
	if (!Number.isFinite(value) || !fits(value)) throw new BadUse(`${name} ${text}: expected ${expected}`);
	return value;
}

async function readRuns(path: string): Promise<{ text: string; runs: RecordedRun[] }> {
	const text = await readFile(path, 'utf8').catch((fault: NodeJS.ErrnoException) => {
		throw new BadUse(`${path}: cannot be read (${fault.code ?? fault.message})`);
	});
	const { rows, bad } = readRecordedCsv(text);
	if (bad.length > 0) {
		const told = bad.slice(0, MOST_BAD_ROWS_TOLD).map(({ line, reason }) => `  line ${line}: ${reason}`);
		if (bad.length > told.length) told.push(`  and ${bad.length - told.length} more`);
		throw new BadUse(
			`${path}: ${bad.length} bad ${bad.length === 1 ? 'row' : 'rows'}, nothing written\n${told.join('\n')}`
		);
	}
	if (rows.length === 0) throw new BadUse(`${path}: expected at least one row below the header`);
	return { text, runs: recordedRuns(rows) };
}

/** Written beside and renamed, so that the file is either whole or absent. */
async function writeWhole(path: string, text: string): Promise<void> {
	const beside = `${path}.part-${process.pid}`;
	try {
		await writeFile(beside, text, { flag: 'wx' });
		await rename(beside, path);
	} catch (fault) {
		await rm(beside, { force: true });
		throw new BadUse(`${path}: cannot be written (${(fault as NodeJS.ErrnoException).code ?? String(fault)})`);
	}
}
