import { z } from 'zod';
import { librarySchema, procedureSchema } from './schema';

/** JSON Schema (draft 2020-12) of procedure files and of the files they include, made from the one schema, for editors. */
export function procedureJsonSchema(): Record<string, unknown> {
	const made = z.toJSONSchema(z.union([procedureSchema, librarySchema]), { io: 'input', target: 'draft-2020-12' });
	return { ...made, $id: 'procedure.schema.json', title: 'Procedure' };
}
