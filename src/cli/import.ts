import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { attachmentName } from '$lib/record/file-names';
import type { ImportedRun } from '$lib/record/read-eln';
import { readJournal } from '$lib/record/read-journal';
import { BadUse, type Command, type ExitCode, type Io } from './command';
import { readRun } from './read-run';
import { writeOut } from './write-out';

export const importRun: Command = {
	purpose: 'a journal back from an .eln archive or a JSON export',
	usage: [
		'usage: handrail import FILE -o JOURNAL [--files FOLDER]',
		'',
		'FILE is an .eln archive or JSON that `handrail export` wrote, or a journal. The journal comes out as it was, byte for byte;',
		'with --files photographs and spoken notes are put into FOLDER. What is damaged, foreign, newer or hostile is refused.',
		'Exit: 0 brought back, 1 refused, nothing written, 2 bad use, nothing written.'
	].join('\n'),
	async run(args, io): Promise<ExitCode> {
		const { path, out, folder } = readOptions(args);
		try {
			const { archive, text } = await readRun(path);
			return archive ? await bringArchive(archive, out, folder, io) : await bringText(text, out, io);
		} catch (fault) {
			if (!(fault instanceof RangeError)) throw fault;
			io.err(`${path}: refused: ${fault.message}\n`);
			return 1;
		}
	}
};

async function bringArchive(run: ImportedRun, out: string, folder: string | null, io: Io): Promise<ExitCode> {
	let count = 0;
	if (folder !== null) {
		await mkdir(folder, { recursive: true });
		for await (const { sha256, type, bytes } of run.files()) {
			const event = run.journal.events.find((one) => one.kind === 'attachment' && one.data.sha256 === sha256)!;
			await writeOut(join(folder, attachmentName({ at: event.at, seq: event.seq, step: event.kind === 'attachment' ? event.data.step : null, type })), bytes);
			count++;
		}
	}
	// the journal last: where it stands, all of it is there
	await writeOut(out, run.bytes);
	io.out(`${run.journal.events.length} events of run ${run.journal.events[0]!.run}${folder === null ? '' : `, ${count} files`}\n`);
	return 0;
}

async function bringText(text: string, out: string, io: Io): Promise<ExitCode> {
	const { events, fault } = readJournal(text);
	if (fault) throw new RangeError(`the chain breaks at event ${fault.seq}, line ${fault.line}: ${fault.reason}`);
	await writeOut(out, text);
	io.out(`${events.length} events of run ${events[0]!.run}\n`);
	return 0;
}

function readOptions(args: readonly string[]): { path: string; out: string; folder: string | null } {
	let path: string | null = null;
	let out: string | null = null;
	let folder: string | null = null;
	for (let i = 0; i < args.length; i++) {
		const arg = args[i]!;
		if (arg === '-o' || arg === '--files') {
			const value = args[++i];
			if (value === undefined) throw new BadUse(`${arg} needs a value: a ${arg === '-o' ? 'file' : 'folder'}`);
			if (arg === '-o') out = value;
			else folder = value;
		} else if (arg.startsWith('-')) throw new BadUse(`"${arg}" is not understood; expected -o JOURNAL or --files FOLDER`);
		else if (path !== null) throw new BadUse(`one file at a time; got ${path} and ${arg}`);
		else path = arg;
	}
	if (path === null) throw new BadUse('no file named; expected an .eln archive, a JSON export or a journal');
	if (out === null) throw new BadUse('-o is missing; expected the journal to write');
	return { path, out, folder };
}
