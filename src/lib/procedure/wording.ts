import type { Edition, Step } from './edition';
import { furtherActions, startsWithImperative } from './imperatives';

/**
 * The writers' rules, as hints. From DOE-STD-1029-92, Writer's guide for technical procedures (one action a step,
 * imperative verb first, condition before action, a warning contains no action), and ASD-STE100, simplified technical
 * English (at most 20 words in a sentence that instructs); both known from memory and not from a copy.
 */
export type WordingRule = 'imperative first' | 'one action' | 'twenty words' | 'no action in a warning';

export interface WordingHint {
	readonly rule: WordingRule;
	/** Key of the compiled positions: `STEP` or `STEP#hazard`. */
	readonly at: string;
	readonly sentence: string;
}

export const WORDS = 20;

/** Looks at the full wordings and the hazards of every step. English only: other languages have other imperatives. */
export function wordingHints(edition: Edition): WordingHint[] {
	const language = edition.languages.find((tag) => tag === 'en' || tag.startsWith('en-'));
	if (language === undefined) return [];
	return Object.values(edition.steps).flatMap((step) => [...ofStep(step, step.words[language]?.full ?? ''), ...ofHazard(step, step.hazard?.what[language] ?? '')]);
}

function ofStep({ path }: Step, full: string): WordingHint[] {
	const hints: WordingHint[] = [];
	const hint = (rule: WordingRule, sentence: string) => hints.push({ rule, at: path, sentence });
	const all = sentences(full);
	const instructing = all.filter((sentence) => !sentence.endsWith('?')).map(afterCondition);
	const [first] = instructing;
	if (first === undefined) hint('imperative first', `"${full}" only asks; expected what to do or to look at first`);
	else if (!startsWithImperative(first)) hint('imperative first', `"${full}" does not begin with a verb in the imperative`);
	const actions = instructing.flatMap((sentence) => [...(startsWithImperative(sentence) ? [sentence.split(/[\s.,]/)[0] ?? ''] : []), ...furtherActions(sentence)]);
	if (actions.length > 1) hint('one action', `"${full}" asks for more than one action (${actions.map((verb) => verb.toLowerCase()).join(', ')}); expected one action a step`);
	for (const sentence of all) {
		const count = sentence.split(/\s+/).length;
		if (count > WORDS) hint('twenty words', `"${sentence}" has ${count} words; expected at most ${WORDS}`);
	}
	return hints;
}

function ofHazard({ path }: Step, what: string): WordingHint[] {
	return sentences(what)
		.filter((sentence) => startsWithImperative(sentence) && !isStatement(sentence))
		.map((sentence) => ({
			rule: 'no action in a warning',
			at: `${path}#hazard`,
			sentence: `the warning "${sentence}" asks for an action; expected what can happen, because the action belongs to the step`
		}));
}

/** "Press fits can break." begins with a word that can be a verb, but a verb that states follows it. */
const isStatement = (sentence: string): boolean => /^\S+(?:\s+\S+){0,3}?\s+(?:can|could|may|will|is|are|was|were|has|have|breaks?|bends?|ends?|destroys?|injures?)\b/i.test(sentence);

/** Condition before action: what stands before the comma of "If …, …" is no action. */
const afterCondition = (sentence: string): string => (/^(?:if|when|while|once|before|after|until|as soon as)\b[^,]*,\s*(.+)$/i.exec(sentence)?.[1] ?? sentence).trim();

const sentences = (text: string): string[] => text.split(/(?<=[.?!])\s+/).map((sentence) => sentence.trim()).filter((sentence) => sentence !== '');
