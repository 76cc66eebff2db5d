import { always, type Condition, type Outcome } from './edition';
import { didYouMean } from './nearest';
import { below, type Report, type Where } from './report';
import type { ConditionText } from './schema';
import type { Thing, Vocabulary } from './vocabulary';
import { sameWords } from './words';

/**
 * Reads conditions such as "probe out, stage at the grid / lowered" and effects such as "probe in, slot 1 empty".
 * A comma is the loosest "and"; then "or", then "and"; "/" between conditions of one part; "not" before a part or a
 * condition; after "or" the part may be left out. Names are taken longest first, so they may hold "and" or "or".
 */
export function readCondition(text: ConditionText, vocabulary: Vocabulary, where: Where, report: Report): Condition {
	if (Array.isArray(text)) return { all: text.map((item, i) => readCondition(item, vocabulary, below(where, i), report)) };
	if (typeof text === 'object' && 'any' in text) return { any: text.any.map((item, i) => readCondition(item, vocabulary, below(where, 'any', i), report)) };
	if (typeof text === 'object') return { not: readCondition(text.not, vocabulary, below(where, 'not'), report) };
	const line = prepared(text);
	if (line === 'always') return always;
	const scan = new Scan(line, vocabulary);
	const condition = scan.list();
	if ('trouble' in condition) {
		report.addUnknown(where, condition.name, condition.trouble);
		return always;
	}
	return condition;
}

/** Reads effects: each part with exactly one condition. */
export function readEffects(text: string, vocabulary: Vocabulary, where: Where, report: Report): Outcome['set'] {
	const condition = new Scan(prepared(text), vocabulary).list();
	if ('trouble' in condition) {
		report.addUnknown(where, condition.name, condition.trouble);
		return [];
	}
	const effects: { part: string; to: string }[] = [];
	for (const item of 'all' in condition ? condition.all : [condition])
		if ('part' in item && item.is.length === 1) {
			if (effects.some((e) => e.part === item.part)) report.add(where, `"${item.part}" is set twice; expected one condition for each part`);
			else effects.push({ part: item.part, to: item.is[0] as string });
		} else report.add(where, `"${text}" is not what a step can set; expected parts with one condition each, e.g. "probe in, slot 1 empty"`);
	return effects;
}

/** As names are compared, but commas and slashes stand apart. */
const prepared = (text: string): string => sameWords(text.replace(/\s*([,/])\s*/g, ' $1 '));

interface Unread {
	readonly trouble: string;
	readonly name: string;
}

class Scan {
	private at = 0;
	private last: Thing | null = null;

	constructor(
		private readonly line: string,
		private readonly vocabulary: Vocabulary
	) {}

	list(): Condition | Unread {
		const found = this.joined(',', () => this.joined('or', () => this.joined('and', () => this.atom(), 'all'), 'any'), 'all');
		if ('trouble' in found) return found;
		if (this.rest() === '') return found;
		return { trouble: `"${this.rest()}" is left over; expected a comma, "and" or "or" before it`, name: this.rest() };
	}

	private joined(by: string, one: () => Condition | Unread, as: 'all' | 'any'): Condition | Unread {
		const found: Condition[] = [];
		do {
			const next = one();
			if ('trouble' in next) return next;
			found.push(next);
		} while (this.take(by));
		return found.length === 1 ? (found[0] as Condition) : as === 'all' ? { all: found } : { any: found };
	}

	private atom(): Condition | Unread {
		const negatedBefore = this.take('not');
		const called = this.thing();
		const thing = called ?? this.last;
		if (!thing) return this.unknownThing();
		if (called) this.take('is');
		// a condition's own name may begin with "not"
		const negated = (!thing.conditions.some((c) => this.stands(c.called)) && this.take('not')) !== negatedBefore;
		const is: string[] = [];
		do {
			const condition = thing.conditions.find((c) => this.take(c.called));
			if (!condition) return called || is.length > 0 ? this.unknownCondition(thing) : this.unknownThing();
			if (!is.includes(condition.id)) is.push(condition.id);
		} while (this.take('/'));
		this.last = thing;
		const plain: Condition = thing.kind === 'part' ? { part: thing.id, is } : { setting: thing.id, is };
		return negated ? { not: plain } : plain;
	}

	private thing(): Thing | null {
		let best: { thing: Thing; name: string } | null = null;
		for (const thing of this.vocabulary.things)
			for (const name of thing.called) if (this.stands(name) && name.length > (best?.name.length ?? 0)) best = { thing, name };
		if (!best) return null;
		this.take(best.name);
		return best.thing;
	}

	private unknownThing(): Unread {
		const rest = this.words();
		if (rest === '') return { trouble: 'the condition ends too early; expected a part and its condition, e.g. "probe out"', name: '' };
		const names = this.vocabulary.things.map((t) => t.name);
		const guess = didYouMean(rest, names) || didYouMean(rest.split(' ')[0] as string, names) || didYouMean(rest.split(' ').slice(0, 2).join(' '), names);
		return { trouble: `"${rest}" names no part; expected a part and its condition${guess || listed(names)}`, name: rest.split(' ')[0] as string };
	}

	private unknownCondition(thing: Thing): Unread {
		const rest = this.words();
		const names = [...new Set(thing.conditions.map((c) => c.called))];
		return {
			trouble: `"${rest}" is no condition of ${thing.name}${didYouMean(rest, names) || listed(names)}`,
			name: rest
		};
	}

	private rest(): string {
		return this.line.slice(this.at).trim();
	}
	private words(): string {
		return this.rest().split(/ [,/](?: |$)/)[0]?.slice(0, 60) ?? '';
	}
	/** Whether these words stand here, whole. */
	private stands(words: string): boolean {
		const from = this.line[this.at] === ' ' ? this.at + 1 : this.at;
		return this.line.startsWith(words, from) && (from + words.length === this.line.length || this.line[from + words.length] === ' ');
	}
	private take(words: string): boolean {
		if (!this.stands(words)) return false;
		this.at = (this.line[this.at] === ' ' ? this.at + 1 : this.at) + words.length;
		return true;
	}
}

const listed = (names: readonly string[]): string => (names.length === 0 ? '' : `; known: ${names.slice(0, 12).join(', ')}${names.length > 12 ? ' …' : ''}`);
