import type { Part, Setting } from './edition';
import { sameWords } from './words';

/** What conditions can speak of: parts and choice settings, each with its conditions, by every name that means it. */
export interface Vocabulary {
	readonly things: readonly Thing[];
}
export interface Thing {
	readonly kind: 'part' | 'setting';
	readonly id: string;
	readonly name: string;
	/** Names as compared, longest first, so that "slot 1" never swallows "slot 10". */
	readonly called: readonly string[];
	readonly conditions: readonly { readonly id: string; readonly called: string }[];
}

/** Names in all languages count, ids too. */
export function vocabularyOf(parts: readonly Part[], settings: readonly Setting[]): Vocabulary {
	const things: Thing[] = parts.map((part) => thing('part', part.id, part.name, part.conditions));
	for (const setting of settings) if (setting.kind === 'choice') things.push(thing('setting', setting.id, setting.name, setting.options));
	return { things };
}

type Named = { readonly id: string; readonly name: Readonly<Record<string, string>> };

function thing(kind: Thing['kind'], id: string, name: Named['name'], conditions: readonly Named[]): Thing {
	const called = longestFirst([id, ...Object.values(name)]);
	return {
		kind,
		id,
		name: Object.values(name)[0] ?? id,
		called,
		conditions: conditions
			.flatMap((c) => longestFirst([c.id, ...Object.values(c.name)]).map((words) => ({ id: c.id, called: words })))
			.sort((a, b) => b.called.length - a.called.length)
	};
}

const longestFirst = (names: readonly string[]): string[] => [...new Set(names.map(sameWords))].sort((a, b) => b.length - a.length);
