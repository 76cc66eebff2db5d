import { readFileSync } from 'node:fs';
import { compileProcedure } from '$lib/procedure/compile';
import type { Edition } from '$lib/procedure/edition';

const folder = new URL('../../procedures/', import.meta.url);

/** A shipped procedure, compiled from its text. Throws with every fault if it has any. */
export function shipped(name = 'lift-out-visit'): Edition {
	const file = `${name}.yaml`;
	const compiled = compileProcedure(readFileSync(new URL(file, folder), 'utf8'), `procedures/${file}`, (included) =>
		readFileSync(new URL(included, folder), 'utf8')
	);
	if ('faults' in compiled)
		throw new Error(compiled.faults.map((fault) => `${fault.line}:${fault.column}: ${fault.sentence}`).join('\n'));
	return compiled.edition;
}
