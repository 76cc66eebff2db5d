import type { Exporting } from './exporting';
import type { ReadJournal } from './read-journal';

/** Part of a file, in order. */
export type Chunk = string | Uint8Array;
export type Journals = Iterable<ReadJournal> | AsyncIterable<ReadJournal>;

export interface Format {
	readonly ending: string;
	/** Media type. */
	readonly type: string;
	/** Whether one file holds many runs; the others take one. */
	readonly many: boolean;
	/** The file, chunk by chunk. Throws RangeError where a journal has no event 0. */
	write(journals: Journals, exporting: Exporting): AsyncIterable<Chunk>;
}

/** A format that takes one run; loaded when it is first asked for, so that no screen carries formats that it does not write. */
const single = (ending: string, type: string, make: (journal: ReadJournal, exporting: Exporting) => Promise<Chunk | AsyncIterable<Chunk>>): Format => ({
	ending,
	type,
	many: false,
	async *write(journals, exporting) {
		for await (const journal of journals) {
			const made = await make(journal, exporting);
			if (typeof made === 'string' || made instanceof Uint8Array) yield made;
			else yield* made;
		}
	}
});

/** The one table of formats: command line, timeline and history are made from it. */
export const FORMATS = {
	md: single('md', 'text/markdown', async (journal) => (await import('./markdown')).toMarkdown(journal)),
	csv: single('csv', 'text/csv', async (journal) => (await import('./csv')).toCsv(journal)),
	json: single('json', 'application/json', async (journal) => (await import('./json')).toJson(journal)),
	eln: single('eln', 'application/vnd.eln+zip', async (journal, exporting) => (await import('./eln')).toEln(journal, exporting)),
	xes: {
		ending: 'xes',
		type: 'application/xml',
		many: true,
		async *write(journals) {
			yield* (await import('./xes')).toXes(journals);
		}
	},
	ipynb: single('ipynb', 'application/x-ipynb+json', async (journal) => (await import('./ipynb')).toIpynb(journal)),
	ics: single('ics', 'text/calendar', async (journal) => (await import('./ics')).toIcs(journal)),
	parquet: {
		ending: 'parquet',
		type: 'application/vnd.apache.parquet',
		many: true,
		async *write(journals) {
			yield* (await import('./parquet')).toParquet(journals);
		}
	},
	html: single('html', 'text/html', async (journal, { verify, paper }) => {
		const [{ toHtml }, { prove }] = [await import('./html'), await import('./prove')];
		return toHtml(journal, await prove(journal, verify), paper);
	})
} as const satisfies Readonly<Record<string, Format>>;

export type FormatId = keyof typeof FORMATS;
export const isFormat = (id: string): id is FormatId => Object.hasOwn(FORMATS, id);
