import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { compileProcedure } from '$lib/procedure/compile';
import { indexOf } from '$lib/procedure/edition-index';
import { faultLine } from '$lib/procedure/fault';
import { procedureJsonSchema } from '$lib/procedure/json-schema';

/**
 * Compiles the procedures that ship into what the app loads: `OUT/editions/ID.json` and `OUT/editions/index.json`; the app
 * then needs neither YAML nor the schema. Beside them `OUT/procedure.schema.json`, for editors. Run by
 * tests/config/generate.mjs as `node compile-editions.js PROCEDURES OUT`; exit 1 and every fault on stderr if a procedure
 * has one, and then nothing is written.
 */
function compileEditions(procedures: string, target: string): number {
	const out = join(target, 'editions');
	const read = (name: string): string => readFileSync(join(procedures, name), 'utf8');
	const files = readdirSync(procedures).filter((name) => name.endsWith('.yaml') && /^procedure:/m.test(read(name)));
	const present = new Set(readdirSync(procedures));
	const made = files.sort().map((name) => compileProcedure(read(name), name, (file) => (present.has(file) ? read(file) : undefined)));
	const faults = made.flatMap((one) => ('faults' in one ? one.faults : []));
	for (const fault of faults) console.error(`${procedures}/${faultLine(fault)}`);
	if (faults.length > 0) return 1;
	mkdirSync(out, { recursive: true });
	const compiled = made.flatMap((one) => ('edition' in one ? [one] : []));
	const names = new Set([...compiled.map(({ edition }) => `${edition.id}.json`), 'index.json']);
	for (const name of readdirSync(out)) if (!names.has(name)) rmSync(join(out, name));
	for (const { edition } of compiled) write(join(out, `${edition.id}.json`), edition);
	write(join(out, 'index.json'), indexOf(compiled));
	write(join(target, 'procedure.schema.json'), procedureJsonSchema());
	return 0;
}

/** Beside its place and renamed, so that nobody reads half a file. */
function write(path: string, value: unknown): void {
	writeFileSync(`${path}.new`, JSON.stringify(value));
	renameSync(`${path}.new`, path);
}

const [procedures, out] = process.argv.slice(2);
if (procedures === undefined || out === undefined) {
	console.error('usage: compile-editions PROCEDURES OUT');
	process.exitCode = 2;
} else process.exitCode = compileEditions(procedures, out);
