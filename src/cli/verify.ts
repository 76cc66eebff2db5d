import { readFile } from 'node:fs/promises';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { type Compiled, compileProcedure } from '$lib/procedure/compile';
import type { Position } from '$lib/procedure/fault';
import { LIMIT, soundFindings } from '$lib/procedure/sound';
import type { PathStep, Statistics } from '$lib/procedure/verify/finding';
import { verify } from '$lib/procedure/verify/verify';
import { wordingHints } from '$lib/procedure/wording';
import { BadUse, type Command, type ExitCode } from './command';

/** One line of the report. */
interface Line {
	readonly level: 'fault' | 'hint';
	readonly rule: string;
	readonly file: string;
	readonly line: number;
	readonly column: number;
	readonly sentence: string;
	readonly path: readonly Omit<PathStep, 'position'>[];
}

interface Report {
	readonly file: string;
	readonly lines: readonly Line[];
	/** Null where the file could not be compiled. */
	readonly statistics: Statistics | null;
}

export const verifyFiles: Command = {
	purpose: 'checks procedures: every reachable state, words that sound alike, wording',
	usage: [
		'usage: handrail verify FILE… [--json]',
		'',
		'Explores every reachable combination of step and parts and proves, or refutes by the shortest path: no step is entered',
		'with its requirement unmet, no invariant is broken, every state can reach an end, every trouble can be left, tips and',
		'slots are known at every end, every step can be reached, what is dangerous is confirmed, the safe end can be planned',
		`from everywhere. Words that can be said at the same moment must differ by ${LIMIT} phonemes. Wording is told as hints.`,
		'A fault is FILE:LINE:COLUMN: sentence. Exit: 0 no fault, 1 faults, 2 bad use. Hints do not change the exit.'
	].join('\n'),
	async run(args, io): Promise<ExitCode> {
		const json = args.includes('--json');
		const files = args.filter((arg) => arg !== '--json');
		const option = files.find((arg) => arg.startsWith('-'));
		if (option !== undefined) throw new BadUse(`"${option}" is not understood; expected --json`);
		if (files.length === 0) throw new BadUse('no file named; expected at least one procedure (.yaml)');
		const texts = await Promise.all(files.map(read));
		const reports = files.map((file, i) => report(file, texts[i] ?? ''));
		if (json) io.out(`${JSON.stringify(reports)}\n`);
		else for (const one of reports) io.out(told(one));
		return reports.some(({ lines }) => lines.some(({ level }) => level === 'fault')) ? 1 : 0;
	}
};

async function read(path: string): Promise<string> {
	try {
		return await readFile(path, 'utf8');
	} catch (thrown) {
		const { code, message } = thrown as NodeJS.ErrnoException;
		throw new BadUse(code === 'ENOENT' ? `there is no file ${path}` : code === 'EISDIR' ? `${path} is a folder; expected a procedure` : `${path} can't be read: ${message}`);
	}
}

function report(file: string, text: string): Report {
	const folder = dirname(file);
	const beside = (name: string): string | undefined => {
		const path = join(folder, name);
		// an include names a file beside this one, and nothing outside
		return relative(folder, path).startsWith('..') || !existsSync(path) ? undefined : readFileSync(path, 'utf8');
	};
	const compiled = compileProcedure(text, file, (name) => beside(name));
	if ('faults' in compiled) return { file, statistics: null, lines: compiled.faults.map((fault) => ({ level: 'fault', rule: 'text', path: [], ...fault, file: placed(file, fault.file) })) };
	return checked(file, compiled);
}

function checked(file: string, { edition, positions }: Compiled): Report {
	const at = (position: Position | null | undefined) => ({ file: placed(file, position?.file ?? file), line: position?.line ?? 1, column: position?.column ?? 1 });
	const near = (key: string) => positions.get(key) ?? positions.get(key.split('#')[0] ?? key);
	const { findings, statistics } = verify(edition, { positions, now: () => performance.now() });
	return {
		file,
		statistics,
		lines: [
			...findings.map(({ rule, sentence, position, path }): Line => ({ level: 'fault', rule, ...at(position), sentence, path: path.map(({ step, title, then }) => ({ step, title, then })) })),
			...soundFindings(edition).map(({ kind, at: step, sentence }): Line => ({ level: kind === 'alike' ? 'fault' : 'hint', rule: 'sound', ...at(near(step)), sentence, path: [] })),
			...wordingHints(edition).map(({ rule, at: key, sentence }): Line => ({ level: 'hint', rule, ...at(near(key)), sentence, path: [] }))
		]
	};
}

/** Included files are named as they are included: beside the file that names them. */
const placed = (file: string, named: string): string => (named === file ? file : join(dirname(file), named));

function told({ file, lines, statistics }: Report): string {
	const out = lines.flatMap((line) => {
		const head = `${line.file}:${line.line}:${line.column}: ${line.level === 'hint' ? 'hint: ' : ''}${line.sentence}`;
		return line.path.length === 0 ? [head] : [head, ...line.path.map(({ title, then }, i) => `    ${i + 1}. ${title}${then === '' ? '' : ` — ${then}`}`)];
	});
	const faults = lines.filter(({ level }) => level === 'fault').length;
	const hints = lines.length - faults;
	const count = (n: number, one: string) => `${n} ${one}${n === 1 ? '' : 's'}`;
	const explored = statistics === null ? 'not explored' : `${statistics.states} states explored in ${Math.round(statistics.ms)} ms`;
	return [...out, `${file}: ${count(faults, 'fault')}, ${count(hints, 'hint')}, ${explored}`, ''].join('\n');
}
