import { version } from '../../../package.json';
import { utf8ToBytes } from '@noble/hashes/utils.js';
import type { JournalEvent } from '$lib/run/events';
import { lineOf } from './chain';
import { type CrateFile, crateOf, JOURNAL_TYPE, METADATA } from './crate';
import { csvOf } from './csv';
import { attachmentName, exportName } from './file-names';
import type { AttachedFiles, Exporting } from './exporting';
import { htmlOf, recordBody } from './html';
import { markdownOf } from './markdown';
import { prove } from './prove';
import type { ReadJournal } from './read-journal';
import { type Report, reportOf } from './report';
import { sha256OfBytes, sha256OfMany } from './sha256';
import { english } from './words/english';
import { type ZipEntry, zipOf } from './zip-writing';

/** The run's folder inside an archive, and the journal in it, byte for byte as it is kept. */
export const JOURNAL_NAME = 'run.journal.jsonl';

/**
 * A run as an .eln archive (a ZIP that is an RO-Crate): journal, record, events as table, photographs and spoken notes, one of
 * them in memory at a time. What is not on this device is told in the record, and not in the archive. The same run gives the
 * same bytes. Throws RangeError where there is no event 0, or where a file's bytes do not fit its hash.
 */
export async function* toEln(journal: ReadJournal, exporting: Pick<Exporting, 'files' | 'verify' | 'paper'>): AsyncGenerator<Uint8Array> {
	const report = reportOf(journal);
	const stem = exportName({ beganAt: report.beganAt, procedure: report.title, sample: report.sample, run: report.run }, 'eln').replace(/\.eln$/, '');
	const written = await writtenFiles(journal, report, exporting);
	const attached = await attachedFiles(report, exporting.files);
	const crate = crateOf(report, stem, [...written.map(({ file }) => file), ...attached.map(({ file }) => file)], recordBody(report, english), version);
	yield* zipOf(entries());

	async function* entries(): AsyncGenerator<ZipEntry> {
		// readers look for it first
		yield { path: `${stem}/${METADATA}`, bytes: utf8ToBytes(JSON.stringify(crate, null, '\t') + '\n'), packed: false };
		for (const { file, bytes } of written) yield { path: `${stem}/${stem}/${file.name}`, bytes, packed: false };
		for (const { file } of attached) yield { path: `${stem}/${stem}/${file.name}`, bytes: await soundBytes(exporting.files, report.run, file), packed: true };
	}
}

async function writtenFiles(journal: ReadJournal, report: Report, { verify, paper }: Pick<Exporting, 'verify' | 'paper'>): Promise<{ file: CrateFile; bytes: Uint8Array }[]> {
	const of = (name: string, description: string, type: string, text: string) => {
		const bytes = utf8ToBytes(text);
		return { file: { name, description, type, bytes: bytes.length, sha256: sha256OfBytes(bytes), at: report.lastAt, seq: null }, bytes };
	};
	return [
		of(JOURNAL_NAME, 'The journal: one event a line, chained by hashes.', JOURNAL_TYPE, journal.events.map((event) => lineOf(event) + '\n').join('')),
		of('record.html', 'The record, to be printed.', 'text/html', htmlOf(report, await prove(journal, verify), paper)),
		of('record.md', 'The record, to be pasted into a log.', 'text/markdown', markdownOf(report)),
		of('events.csv', 'All events as a table.', 'text/csv', csvOf(report))
	];
}

/** Photographs and spoken notes that are here, in the order attached. */
async function attachedFiles({ run, events }: Report, files: AttachedFiles): Promise<{ file: CrateFile }[]> {
	const found: { file: CrateFile }[] = [];
	for (const { event } of events as readonly { event: JournalEvent }[]) {
		if (event.kind !== 'attachment' || !(await files.has(run, event.data.sha256))) continue;
		const { at, seq, data } = event;
		const name = attachmentName({ at, seq, step: data.step, type: data.type });
		found.push({ file: { name, description: `Attached in step ${data.step ?? '–'}.`, type: data.type, bytes: data.bytes, sha256: data.sha256, at, seq } });
	}
	return found;
}

async function soundBytes(files: AttachedFiles, run: string, { name, sha256, bytes: length }: CrateFile): Promise<Uint8Array> {
	const bytes = await files.read(run, sha256);
	if (!bytes) throw new RangeError(`${name} was here when the export began and is not now`);
	if (bytes.length !== length || (await sha256OfMany(bytes)) !== sha256) throw new RangeError(`${name} was altered: its bytes do not fit the hash that the journal names`);
	return bytes;
}
