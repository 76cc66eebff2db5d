import { verifyEd25519 } from '$lib/adapters/signer/verify-ed25519';
import { noFiles, type Paper } from '$lib/record/exporting';
import { type Chunk, type FormatId, FORMATS, isFormat } from '$lib/record/formats';
import type { ReadJournal } from '$lib/record/read-journal';
import { SharedEditions } from '$lib/record/shared-editions';
import { BadUse, type Command, type ExitCode, type Io } from './command';
import { folderFiles } from './folder-files';
import { readJournalFile } from './read-file';
import { writeOut } from './write-out';

const ids = Object.keys(FORMATS);
const many = ids.filter((id) => isFormat(id) && FORMATS[id].many);
/** Formats that are no text and would spoil a terminal. */
const binary: ReadonlySet<string> = new Set<FormatId>(['eln', 'parquet']);

export const exportJournal: Command = {
	purpose: 'a journal as Markdown, table, notebook, archive and more',
	usage: [
		`usage: handrail export JOURNAL… --as ${ids.join('|')} [--files FOLDER] [--paper A4|letter] [-o OUT]`,
		'',
		`Verifies the chain first. Without -o the result goes to stdout, but for ${[...binary].join(' and ')}. Several journals go into one file`,
		`as ${many.join(' or ')}. FOLDER holds photographs and spoken notes, under any names: they are found by their hash (eln).`,
		'A broken journal is exported up to its last sound event, with the fault in it, and the fault is told.',
		'Exit: 0 exported, 1 exported but a journal is broken, 2 bad use, nothing written.'
	].join('\n'),
	async run(args, io): Promise<ExitCode> {
		const { paths, as, out, folder, paper } = readOptions(args);
		const files = folder === null ? noFiles : await folderFiles(folder);
		const seen = { broken: false };
		const content = FORMATS[as].write(journalsOf(paths, io, seen), { files, verify: verifyEd25519, paper });
		if (out !== null) await writeOut(out, content);
		else await print(content, io);
		return seen.broken ? 1 : 0;
	}
};

/** Read one after another, so that many need no more memory than one. */
async function* journalsOf(paths: readonly string[], io: Io, seen: { broken: boolean }): AsyncGenerator<ReadJournal> {
	const editions = new SharedEditions();
	for (const path of paths) {
		const journal = await readJournalFile(path, editions);
		const { fault } = journal;
		if (fault) io.err(`${path}: the chain breaks at event ${fault.seq}, line ${fault.line}: ${fault.reason}\n`);
		if (!journal.events.length) throw new BadUse(`${path} holds no sound event; nothing was written`);
		seen.broken ||= fault !== null;
		yield journal;
	}
}

/** Text formats only; whole before it is printed, so that a fault on the way prints nothing. */
async function print(content: AsyncIterable<Chunk>, io: Io): Promise<void> {
	let text = '';
	for await (const chunk of content) text += typeof chunk === 'string' ? chunk : new TextDecoder().decode(chunk);
	io.out(text);
}

interface Options {
	readonly paths: readonly string[];
	readonly as: FormatId;
	readonly out: string | null;
	readonly folder: string | null;
	readonly paper: Paper;
}

const papers: Readonly<Record<string, Paper>> = { a4: 'A4', letter: 'letter' };

function readOptions(args: readonly string[]): Options {
	const paths: string[] = [];
	const given: Record<string, string> = {};
	const wanted: Readonly<Record<string, string>> = { '--as': ids.join(', '), '-o': 'a file', '--files': 'a folder', '--paper': 'A4 or letter' };
	for (let i = 0; i < args.length; i++) {
		const arg = args[i]!;
		if (Object.hasOwn(wanted, arg)) {
			const value = args[++i];
			if (value === undefined) throw new BadUse(`${arg} needs a value: ${wanted[arg]}`);
			given[arg] = value;
		} else if (arg.startsWith('-')) throw new BadUse(`"${arg}" is not understood; expected ${Object.keys(wanted).join(', ')}`);
		else paths.push(arg);
	}
	const [as, out, paper] = [given['--as'], given['-o'] ?? null, papers[(given['--paper'] ?? 'A4').toLowerCase()]];
	if (!paths.length) throw new BadUse('no journal named; expected a .journal.jsonl file');
	if (as === undefined || !isFormat(as)) throw new BadUse(`--as ${as ?? 'is missing'}; expected one of ${ids.join(', ')}`);
	if (paths.length > 1 && !FORMATS[as].many) throw new BadUse(`one journal at a time; several go into one file only as ${many.join(' or ')}`);
	if (!paper) throw new BadUse(`--paper ${given['--paper']}; expected A4 or letter`);
	if (out === null && binary.has(as)) throw new BadUse(`${as} is no text; expected -o OUT`);
	return { paths, as, out, folder: given['--files'] ?? null, paper };
}
