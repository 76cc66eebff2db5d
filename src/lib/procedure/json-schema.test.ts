import { describe, expect, it } from 'vitest';
import { procedureJsonSchema } from './json-schema';
import { procedureSchema, stepSchema } from './schema';
import { kinds } from './words';

interface Node {
	readonly properties?: Readonly<Record<string, Node>>;
	readonly required?: readonly string[];
	readonly additionalProperties?: unknown;
	readonly anyOf?: readonly Node[];
	readonly items?: Node;
	readonly description?: string;
	readonly [key: string]: unknown;
}

describe('the JSON Schema for editors', () => {
	const made = procedureJsonSchema() as Node;
	const [procedure, library] = (made.anyOf ?? []) as Node[];
	it('knows every key of the one schema, and refuses others', () => {
		expect(Object.keys(procedure?.properties ?? {})).toEqual(Object.keys(procedureSchema.shape));
		expect(procedure?.additionalProperties).toBe(false);
		expect(Object.keys(library?.properties ?? {})).toContain('fragments');
	});
	it('asks for what the compiler asks for, and not for what has a default', () => {
		expect(procedure?.required).toEqual(['procedure', 'version', 'title', 'summary', 'stages', 'ends']);
	});
	it('reaches into steps', () => {
		const step = procedure?.properties?.stages?.items?.properties?.steps?.items;
		expect(Object.keys(step?.properties ?? {})).toEqual(Object.keys(stepSchema.shape));
		expect(kinds.every((kind) => step?.properties?.[kind])).toBe(true);
		expect(step?.properties?.then?.description).toContain('back to "Title"');
	});
	it('is plain JSON of draft 2020-12', () => {
		expect(JSON.parse(JSON.stringify(made))).toEqual(made);
		expect(made.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
	});
});
