import { z } from 'zod';
import type { Path } from './source';

/** The keys that a schema knows at a path of a file, for suggesting what was meant; empty where any key may stand. */
export function keysAt(schema: z.ZodType, path: Path): string[] {
	let here: z.core.$ZodType[] = open(schema);
	for (const name of path) here = here.flatMap((s) => inside(s, name)).flatMap(open);
	return [...new Set(here.flatMap((s) => (s instanceof z.ZodObject ? Object.keys(s.shape) : [])))];
}

/** A schema without its wrappers; a union as all its branches. */
function open(schema: z.core.$ZodType): z.core.$ZodType[] {
	if (schema instanceof z.ZodOptional || schema instanceof z.ZodDefault) return open(schema.unwrap());
	if (schema instanceof z.ZodUnion) return schema.options.flatMap(open);
	if (schema instanceof z.ZodLazy) return open(schema.unwrap());
	return [schema];
}

function inside(schema: z.core.$ZodType, name: string | number): z.core.$ZodType[] {
	if (schema instanceof z.ZodObject) return name in schema.shape ? [schema.shape[name] as z.core.$ZodType] : [];
	if (schema instanceof z.ZodArray) return [schema.element];
	if (schema instanceof z.ZodRecord) return [schema.valueType];
	return [];
}
