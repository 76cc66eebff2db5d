import { localised } from './compile-step';
import type { Invariant, Part, Setting } from './edition';
import { readCondition } from './condition-text';
import { below, type Report, type Where } from './report';
import type { ProcedureText } from './schema';
import type { Vocabulary } from './vocabulary';
import { idFrom, sameWords } from './words';

type Entry<K extends 'parts' | 'settings' | 'invariants'> = { readonly id: string; readonly text: NonNullable<ProcedureText[K]>[string]; readonly where: Where };

/** A part; `start`: what this procedure begins from, instead of what the part itself says. */
export function compilePart({ id, text, where }: Entry<'parts'>, languages: readonly string[], start: readonly string[] | undefined, startAt: Where, report: Report): Part {
	const conditions = conditionNames(text.conditions, below(where, 'conditions'), languages, report);
	const named = (name: string, at: Where): string | null => {
		const found = conditions.find((c) => c.id === name || Object.values(c.name).some((n) => sameWords(n) === sameWords(name)));
		return found?.id ?? report.addUnknown(at, name, `"${name}" is not a condition of this part; expected one of ${conditions.map((c) => c.name[languages[0] as string] ?? c.id).join(', ')}`);
	};
	const list = (names: readonly string[], at: Where): string[] => names.map((name, i) => named(name, below(at, i))).filter((c) => c !== null);
	const unknown = text.unknown === undefined ? null : named(text.unknown, below(where, 'unknown'));
	return {
		id,
		name: text.name === undefined ? { [languages[0] as string]: id.replaceAll('-', ' ') } : localised(text.name, languages, below(where, 'name'), report),
		conditions,
		start: start ? list(start, startAt) : text.start ? list(text.start, below(where, 'start')) : conditions.map((c) => c.id),
		dangerous: list(text.dangerous ?? [], below(where, 'dangerous')),
		...(unknown === null ? {} : { unknown })
	};
}

type Names = NonNullable<ProcedureText['parts']>[string]['conditions'];

function conditionNames(names: Names, where: Where, languages: readonly string[], report: Report): Part['conditions'] {
	const ids = new Set<string>();
	return names.map((entry, i) => {
		const here = below(where, i);
		const condition = typeof entry === 'string' ? { id: idFrom(entry), name: { [languages[0] as string]: entry } } : { id: entry.id, name: localised(entry.name, languages, below(here, 'name'), report) };
		if (ids.has(condition.id)) report.add(here, `the condition "${condition.id}" stands twice; expected each once`);
		ids.add(condition.id);
		for (const name of Object.values(condition.name)) if (/[,/]/.test(name)) report.add(here, `"${name}" holds a comma or a slash; expected a name without them, because they join conditions`);
		return condition;
	});
}

export function compileSetting({ id, text, where }: Entry<'settings'>, languages: readonly string[], report: Report): Setting {
	const name = text.name === undefined ? { [languages[0] as string]: id.replaceAll('-', ' ') } : localised(text.name, languages, below(where, 'name'), report);
	if ('options' in text) {
		const options = conditionNames(text.options, below(where, 'options'), languages, report);
		const chosen = options.find((o) => o.id === text.default || Object.values(o.name).includes(text.default));
		if (!chosen) report.add(below(where, 'default'), `"${text.default}" is none of the options; expected ${options.map((o) => o.id).join(' or ')}`);
		return { id, name, kind: 'choice', options, default: chosen?.id ?? text.default };
	}
	if (!(text.min <= text.default && text.default <= text.max)) report.add(below(where, 'default'), `the default ${text.default} lies outside ${text.min} to ${text.max}; expected it inside`);
	return { id, name, kind: 'number', unit: text.unit, min: text.min, max: text.max, default: text.default };
}

export function compileInvariant({ id, text, where }: Entry<'invariants'>, languages: readonly string[], vocabulary: Vocabulary, report: Report): Invariant | null {
	const words = localised(text.words, languages, below(where, 'words'), report);
	if ('always' in text) return { id, words, always: readCondition(text.always, vocabulary, below(where, 'always'), report) };
	if ('if' in text) {
		const condition = readCondition(text.if, vocabulary, below(where, 'if'), report);
		return { id, words, always: { any: [{ not: condition }, readCondition(text.then, vocabulary, below(where, 'then'), report)] } };
	}
	const part = vocabulary.things.find((t) => t.kind === 'part' && t.called.includes(sameWords(text.changes)));
	if (!part) return report.addUnknown(below(where, 'changes'), text.changes, `"${text.changes}" is not a part; expected the part whose changes are bound`);
	return { id, words, changes: part.id, onlyWhile: readCondition(text['only while'], vocabulary, below(where, 'only while'), report) };
}
