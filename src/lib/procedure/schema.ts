import { z } from 'zod';
import { limits } from './limits';
import { kinds, signalWords } from './words';

/**
 * The procedure language, as a schema: the one source of what a file may hold. The JSON Schema for editors is made from
 * it (json-schema.ts); what a schema cannot say (references, conditions, flow) is looked at by compile.ts.
 * Reference with an example: tests/behaviour/procedure-language.md.
 */

const line = z.string().min(1).max(limits.text);
const id = z.string().regex(/^[a-z][a-z0-9-]*$/).max(60).meta({ description: 'Lower-case letters, digits and hyphens, e.g. gas-needle.' });
const language = z.string().regex(/^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$/);
/** A text in the first language, or one for each language. */
const text = z.union([line, z.record(language, line)]).meta({ description: 'A text, or one for each language: {en: …, de: …}.' });
const duration = z
	.string()
	.regex(/^\d+(\.\d+)? ?(s|min|h)$/)
	.meta({ description: 'A duration: "90 s", "5 min" or "1 h".' });

/** "probe out, gas needle out"; a comma means "and". Lists, `any` and `not` for what a line cannot say. */
const condition: z.ZodType<ConditionText> = z
	.union([
		line,
		z.array(z.lazy(() => condition)).max(50),
		z.strictObject({ any: z.array(z.lazy(() => condition)).max(50) }),
		z.strictObject({ not: z.lazy(() => condition) })
	])
	.meta({ id: 'condition', description: 'What must be true of the parts: "probe out, stage at the grid / lowered". A comma means and; or, not, and / between conditions of one part.' });
export type ConditionText = string | ConditionText[] | { any: ConditionText[] } | { not: ConditionText };

const effects = line.meta({ description: 'What becomes true of the parts: "probe in, tip on probe none".' });
const go = z
	.union([line, z.array(z.union([line, z.strictObject({ if: condition, go: line })])).min(1).max(20)])
	.meta({
		description:
			'Where the walk goes on: next, next stage, leave (behind the fragment), repeat, repeat "Title", go to "Title", trouble NAME, back, back to "Title", complete, safe end; or a list of {if, go} with a plain one last.'
	});

const answer = z.union([
	line,
	z.strictObject({ id: id.optional(), words: text.optional(), sets: effects.optional(), then: go.optional(), 'offered if': condition.optional() })
]);

const reading = z.strictObject({
	name: text,
	unit: z.string().max(20),
	min: z.number(),
	max: z.number(),
	plausible: z.tuple([z.number(), z.number()]),
	decimals: z.number().int().min(0).max(9).default(1),
	target: z.number().optional(),
	tolerance: z.number().positive().optional()
});

const hazard = z.strictObject({
	...(Object.fromEntries(signalWords.map((word) => [word, text.optional()])) as Record<(typeof signalWords)[number], z.ZodOptional<typeof text>>),
	avoid: text,
	confirm: z.boolean().default(false).meta({ description: 'Must be read back and confirmed before the step can end.' })
});

const leftOut = z.union([z.literal(true), z.strictObject({ 'if left out': condition.optional(), go: line.optional() })]);
const wording = z.strictObject({ full: line.optional(), short: line.optional(), say: line.optional(), look: line.optional() });

export const stepSchema = z.strictObject({
	...(Object.fromEntries(kinds.map((kind) => [kind, line.optional()])) as Record<(typeof kinds)[number], z.ZodOptional<typeof line>>),
	id: id.optional(),
	short: line.optional().meta({ description: 'For the practised and the far view.' }),
	say: line.optional().meta({ description: 'As the mouth says it.' }),
	look: line.optional().meta({ description: 'What to look for.' }),
	words: z.record(language, wording).optional().meta({ description: 'The wordings in other languages.' }),
	plan: duration.optional(),
	needs: condition.optional(),
	'only if': condition.optional().meta({ description: 'The walk passes this step by while this does not hold.' }),
	sets: effects.optional(),
	then: go.optional(),
	answers: z.record(line, answer).optional(),
	hazard: hazard.optional(),
	readings: z.record(id, reading).optional(),
	for: duration.optional().meta({ description: 'How long a wait lasts.' }),
	move: line.optional().meta({ description: 'Name of the computed move of an adjust step.' }),
	from: z.record(z.string(), z.string()).optional().meta({ description: "The move's input: this step's reading." }),
	tolerance: z.number().positive().optional(),
	rounds: z.number().int().min(1).max(50).optional(),
	optional: leftOut.optional(),
	final: z.boolean().optional(),
	'small move': line.optional(),
	hands: z.enum(['any', 'clean']).optional(),
	entry: z.boolean().optional(),
	drawing: z.union([line, z.strictObject({ name: line, with: z.record(line, z.union([line, z.number(), z.boolean()])) })]).optional(),
	use: id.optional().meta({ description: 'A fragment to put here.' }),
	with: z.record(id, z.union([line, z.number()])).optional().meta({ description: "Values of the fragment's parameters." })
});
export type StepText = z.infer<typeof stepSchema>;

const conditionName = z.union([line, z.strictObject({ id, name: text })]);
const part = z.strictObject({
	name: text.optional(),
	conditions: z.array(conditionName).min(1).max(40),
	start: z.array(line).min(1).optional().meta({ description: 'Conditions that a run may begin from; all when left out.' }),
	dangerous: z.array(line).optional(),
	unknown: line.optional()
});
const setting = z.union([
	z.strictObject({ name: text.optional(), unit: z.string().max(20), min: z.number(), max: z.number(), default: z.number() }),
	z.strictObject({ name: text.optional(), options: z.array(conditionName).min(1).max(20), default: line })
]);
const stage = z.strictObject({
	stage: text,
	id: id.optional(),
	short: text.optional(),
	plan: duration.optional(),
	optional: leftOut.optional(),
	steps: z.array(stepSchema).min(1).max(500)
});
const fragment = z.strictObject({ with: z.array(id).max(10).optional(), steps: z.array(stepSchema).min(1).max(200) });
const invariant = z.union([
	z.strictObject({ words: text, always: condition }),
	z.strictObject({ words: text, if: condition, then: condition }),
	z.strictObject({ words: text, changes: line, 'only while': condition })
]);
const trouble = z.strictObject({
	title: text,
	'stop first': z.boolean().default(false),
	'in steps': z.array(line).optional(),
	'in stages': z.array(line).optional(),
	while: condition.optional(),
	sets: effects.optional(),
	go: go.optional(),
	steps: z.array(stepSchema).max(200).optional()
});

const shared = {
	include: z.array(line).max(limits.includes).optional(),
	parts: z.record(id, part).optional(),
	settings: z.record(id, setting).optional(),
	invariants: z.record(id, invariant).optional(),
	fragments: z.record(id, fragment).optional()
};

/** A file that others include: parts, settings, invariants and fragments. */
export const librarySchema = z.strictObject({ library: id, ...shared });
export const procedureSchema = z.strictObject({
	procedure: id,
	version: z.string().regex(/^\d+\.\d+\.\d+$/),
	languages: z.array(language).min(1).max(20).default(['en']),
	title: text,
	summary: text,
	...shared,
	start: z.record(id, z.array(line).min(1)).optional().meta({ description: 'Conditions that a run of this procedure may begin from, by part.' }),
	stages: z.array(stage).min(1).max(50),
	troubles: z.record(id, trouble).optional(),
	ends: z.strictObject({ complete: condition, safe: condition })
});

export type ProcedureText = z.infer<typeof procedureSchema>;
export type TextIn = z.infer<typeof text>;
export type GoText = z.infer<typeof go>;
export type AnswerText = z.infer<typeof answer>;
export type FragmentText = z.infer<typeof fragment>;
export type LeftOutText = z.infer<typeof leftOut>;
