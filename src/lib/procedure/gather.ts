import { limits } from './limits';
import { below, type Report, type Where } from './report';
import { librarySchema, procedureSchema, type ProcedureText } from './schema';
import { shape } from './shape';
import { readSource, type Source } from './source';

/** Text of an included file by the name that the include gives, or undefined where there is none. */
export type Include = (name: string) => string | undefined;

type SharedKey = 'parts' | 'settings' | 'invariants' | 'fragments';
export type Shared<K extends SharedKey> = { readonly id: string; readonly text: NonNullable<ProcedureText[K]>[string]; readonly where: Where };

/** A procedure file with what it includes. */
export interface Gathered {
	readonly procedure: ProcedureText;
	readonly where: Where;
	readonly parts: readonly Shared<'parts'>[];
	readonly settings: readonly Shared<'settings'>[];
	readonly invariants: readonly Shared<'invariants'>[];
	readonly fragments: readonly Shared<'fragments'>[];
}

/** Reads the file and the files it includes; null where nothing can be compiled. */
export function gather(text: string, file: string, include: Include, report: Report): Gathered | null {
	const source = read(text, file, report);
	if (!source) return null;
	const shaped = shape(procedureSchema, source, { procedure: 'x', version: '0.0.0', title: '?', summary: '?', languages: ['en'], ends: { complete: 'always', safe: 'always' } });
	report.take(shaped.faults, shaped.takenOut);
	if (!shaped.value) return null;
	const pieces: { value: Partial<Pick<ProcedureText, SharedKey>>; where: Where }[] = [{ value: shaped.value, where: { source, path: [] } }];
	let complete = true;
	const taken = new Set<string>();
	const more = (names: readonly string[], where: Where): void =>
		names.forEach((name, i) => {
			const here = below(where, 'include', i);
			if (taken.has(name)) return;
			if (taken.size >= limits.includes) return void report.add(here, `more than ${limits.includes} files are included; expected fewer`);
			taken.add(name);
			const included = include(name);
			complete &&= included !== undefined;
			if (included === undefined) return void report.add(here, `there is no file "${name}" to include; expected a file beside this one`);
			const library = read(included, name, report);
			const made = library && shape(librarySchema, library, { library: 'x' });
			complete &&= made?.value !== undefined && made?.value !== null;
			if (!library || !made) return;
			report.take(made.faults, made.takenOut);
			if (!made.value) return;
			const at = { source: library, path: [] };
			pieces.push({ value: made.value, where: at });
			more(made.value.include ?? [], at);
		});
	more(shaped.value.include ?? [], { source, path: [] });
	// without an included file every name in it would be told as unknown
	if (!complete) return null;

	const all = <K extends SharedKey>(key: K): Shared<K>[] => {
		const found = new Map<string, Shared<K>>();
		for (const { value, where } of pieces)
			for (const [id, entry] of Object.entries(value[key] ?? {}) as [string, NonNullable<ProcedureText[K]>[string]][]) {
				const here = below(where, key, id);
				if (found.has(id)) report.add(here, `"${id}" stands in another file of this procedure as well; expected it once`, true);
				else found.set(id, { id, text: entry, where: here });
			}
		return [...found.values()];
	};
	return { procedure: shaped.value, where: { source, path: [] }, parts: all('parts'), settings: all('settings'), invariants: all('invariants'), fragments: all('fragments') };
}

function read(text: string, file: string, report: Report): Source | null {
	const read = readSource(text, file);
	if ('source' in read) return read.source;
	report.take(read.faults);
	return null;
}

