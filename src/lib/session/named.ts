import type { Condition, Edition, Localised, Outcome, Step, StepPath, StepWords } from '$lib/procedure/edition';
import * as m from '$lib/paraglide/messages';

/** An edition's own words in the language of the screen, by id; the edition's first language where it lacks that one. */
export interface Named {
	readonly language: string;
	text(localised: Localised | undefined): string;
	stepWords(step: Step | undefined): StepWords;
	/** A step's name for lists and sentences: its short wording. */
	step(path: StepPath): string;
	stage(id: string): string;
	stageShort(id: string): string;
	part(id: string): string;
	/** What is true of a part: the condition's name. */
	condition(part: string, condition: string): string;
	/** "probe out" or "probe out or unknown". */
	conditionText(condition: Condition): string;
	trouble(id: string): string;
	reading(step: StepPath, id: string): string;
	invariant(id: string): string;
	answer(outcome: Outcome): string;
	setting(id: string): string;
}

const noWords: StepWords = { full: '', short: '', spoken: '', look: '' };

export function named(edition: Edition, language: string): Named {
	const pick = <T>(localised: Localised<T> | undefined): T | undefined =>
		localised && (localised[language] ?? localised[edition.languages[0] ?? ''] ?? Object.values(localised)[0]);
	const text = (localised: Localised | undefined) => pick(localised) ?? '';
	const find = <T extends { readonly id: string }>(list: readonly T[], id: string) => list.find((item) => item.id === id);

	const words: Named = {
		language,
		text,
		stepWords: (step) => pick(step?.words) ?? noWords,
		step: (path) => pick(edition.steps[path]?.words)?.short ?? path,
		stage(id) {
			if (id.startsWith('trouble:')) return words.trouble(id.slice('trouble:'.length));
			return text(find(edition.stages, id)?.title) || id;
		},
		stageShort: (id) => text(find(edition.stages, id)?.short) || words.stage(id),
		part: (id) => text(find(edition.parts, id)?.name) || id,
		condition: (part, condition) => text(find(find(edition.parts, part)?.conditions ?? [], condition)?.name) || condition,
		conditionText(condition) {
			if ('part' in condition)
				return m.words_part_is({ part: words.part(condition.part), is: condition.is.map((is) => words.condition(condition.part, is)).join(m.words_or()) });
			if ('setting' in condition) return m.words_part_is({ part: words.setting(condition.setting), is: condition.is.join(m.words_or()) });
			if ('all' in condition) return condition.all.map(words.conditionText).join(m.words_and());
			if ('any' in condition) return condition.any.map(words.conditionText).join(m.words_or());
			return m.words_not({ what: words.conditionText(condition.not) });
		},
		trouble: (id) => text(find(edition.troubles, id)?.title) || id,
		reading: (step, id) => text(find(edition.steps[step]?.readings ?? [], id)?.name) || id,
		invariant: (id) => text(find(edition.invariants, id)?.words) || id,
		answer: (outcome) => text(outcome.answer) || outcome.id,
		setting: (id) => text(find(edition.settings, id)?.name) || id
	};
	return words;
}
