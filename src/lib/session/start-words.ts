import * as m from '$lib/paraglide/messages';
import type { Missing } from '$lib/run/begin';
import type { AskedPart } from './asked-part';
import type { Named } from './named';
import type { StartForm } from './start.svelte';

/** The parts as Start shows them: proposed ones in a line, those that must be answered with all their conditions. */
export function askedParts(form: StartForm, words: Named): readonly AskedPart[] {
	if (!form.edition) return [];
	return form.edition.parts.map((part): AskedPart => {
		const proposed = form.proposed[part.id] ?? null;
		const missing = form.missing.find((m) => (m.key === 'partUnknown' || m.key === 'partNotReady') && m.part === part.id);
		const choices = form.fields.at === '' ? part.conditions.filter(({ id }) => part.start.includes(id)) : part.conditions;
		return {
			id: part.id,
			name: words.part(part.id),
			options: choices.map(({ id }) => ({ value: id, text: words.condition(part.id, id) })),
			is: proposed?.is ?? null,
			isText: proposed ? words.condition(part.id, proposed.is) : '',
			known: proposed?.known === 'carried over' ? m.start_known_left() : m.start_known_stated(),
			why:
				missing?.key === 'partNotReady' ? m.start_part_not_ready({ is: words.condition(part.id, missing.is) })
				: null,
			asked: missing !== undefined
		};
	});
}

/** What else is missing, a sentence each; parts and contradictions stand beside their question. */
export function missingTexts(missing: readonly Missing[], words: Named): readonly string[] {
	return missing.flatMap((item): string[] => {
		if (item.key === 'noPerson') return [m.start_missing_person()];
		if (item.key === 'requirement') return [m.start_missing_requirement({ step: words.step(item.step), what: item.unmet.map(words.conditionText).join(m.words_and()) })];
		if (item.key === 'invariant') return [m.start_missing_invariant({ rule: words.invariant(item.invariant) })];
		if (item.key === 'setting') return [m.start_missing_setting({ setting: words.setting(item.setting) })];
		return [];
	});
}
