import type { WordKey, WordParameters, WordsOf } from '$lib/metrology/words';
import { angleText, figures, lengthText, timeText } from '$lib/metrology/quantityText';

/** Turns words of the reckonings into a sentence of the message library: one table of sentences, one way of writing what fills them. */

type Filled<P> = { readonly [Name in keyof P]: string };
export type Sentences<K extends WordKey> = { readonly [Key in K]: (filled: Filled<WordParameters[Key]>) => string };
/** By parameter: the text of an id. */
export type IdTexts = Readonly<Record<string, (id: string) => string>>;

export function said<K extends WordKey>(sentences: Sentences<K>, { key, parameters }: WordsOf<K>, texts: IdTexts): string {
	const entries = Object.entries(parameters as Readonly<Record<string, number | string>>);
	const filled = Object.fromEntries(entries.map(([name, value]) => [name, typeof value === 'number' ? written(name, value) : (texts[name]?.(value) ?? value)]));
	const sentence = (sentences[key] as (filled: Readonly<Record<string, string>>) => string)(filled);
	return sentence.charAt(0).toUpperCase() + sentence.slice(1);
}

/** The ending of a number's name is its unit (src/lib/metrology/words.ts). */
function written(name: string, value: number): string {
	if (name.endsWith('M')) return lengthText(value);
	if (name.endsWith('Rad')) return angleText(value);
	return name.endsWith('S') ? timeText(value) : figures(value);
}
