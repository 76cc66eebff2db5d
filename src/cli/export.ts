import { toCsv } from '$lib/record/csv';
import { toJson } from '$lib/record/json';
import { toMarkdown } from '$lib/record/markdown';
import type { ReadJournal } from '$lib/record/read-journal';
import { BadUse, type Command, type ExitCode } from './command';
import { readJournalFile } from './read-file';
import { writeOut } from './write-out';

const formats: Readonly<Record<string, (journal: ReadJournal) => string | Uint8Array | Promise<string | Uint8Array>>> = {
	md: (journal) => toMarkdown(journal),
	csv: toCsv,
	json: toJson
};

export const exportJournal: Command = {
	purpose: 'a journal as Markdown, CSV or JSON',
	usage: [
		`usage: handrail export JOURNAL --as ${Object.keys(formats).join('|')} [-o OUT]`,
		'',
		'Verifies the chain first. Without -o the result goes to stdout. A broken journal is exported up to its last sound',
		'event, with the fault in it, and the fault is told.',
		'Exit: 0 exported, 1 exported but the journal is broken, 2 bad use, nothing written.'
	].join('\n'),
	async run(args, io): Promise<ExitCode> {
		const { journal: path, as, out } = readOptions(args);
		const journal = await readJournalFile(path);
		const { fault } = journal;
		if (fault) io.err(`${path}: the chain breaks at event ${fault.seq}, line ${fault.line}: ${fault.reason}\n`);
		if (!journal.events.length) throw new BadUse(`${path} holds no sound event; nothing was written`);
		const made = await formats[as]!(journal);
		if (out !== null) await writeOut(out, made);
		else io.out(typeof made === 'string' ? made : Buffer.from(made).toString('binary'));
		return fault ? 1 : 0;
	}
};

function readOptions(args: readonly string[]): { journal: string; as: string; out: string | null } {
	let journal: string | null = null;
	let as: string | null = null;
	let out: string | null = null;
	for (let i = 0; i < args.length; i++) {
		const arg = args[i]!;
		if (arg === '--as' || arg === '-o') {
			const value = args[++i];
			if (value === undefined) throw new BadUse(`${arg} needs a value: ${arg === '--as' ? Object.keys(formats).join(', ') : 'a file'}`);
			if (arg === '--as') as = value;
			else out = value;
		} else if (arg.startsWith('-')) throw new BadUse(`"${arg}" is not understood; expected --as FORMAT or -o OUT`);
		else if (journal !== null) throw new BadUse(`one journal at a time; got ${journal} and ${arg}`);
		else journal = arg;
	}
	if (journal === null) throw new BadUse('no journal named; expected a .journal.jsonl file');
	if (as === null || !(as in formats)) throw new BadUse(`--as ${as ?? 'is missing'}; expected one of ${Object.keys(formats).join(', ')}`);
	return { journal, as, out };
}
