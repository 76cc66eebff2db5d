import { dictionary } from 'cmu-pronouncing-dictionary';

/** How a text sounds: every way to say it as phonemes (ARPAbet without stress), and the words that the dictionary lacks. */
export interface Sound {
	readonly ways: readonly (readonly string[])[];
	/** Spelt instead: each letter counts as a phoneme. */
	readonly unknown: readonly string[];
}

/** No more ways than this are kept of a text whose words can each be said in several. */
const WAYS = 16;

/**
 * The sound of an English text by the CMU Pronouncing Dictionary, all its variants. Words that it lacks are taken letter
 * by letter, which is a guess. For the desk and the command line: the dictionary is larger than the whole walk.
 */
export function soundOf(text: string): Sound {
	const words = text.toLowerCase().match(/[a-z']+/g) ?? [];
	const unknown: string[] = [];
	let ways: string[][] = [[]];
	for (const word of words) {
		const said = variants(word);
		if (said.length === 0) unknown.push(word);
		const each = said.length > 0 ? said : [[...word.replaceAll("'", '')]];
		ways = ways.flatMap((way) => each.map((one) => [...way, ...one])).slice(0, WAYS);
	}
	return { ways, unknown };
}

function variants(word: string): string[][] {
	const list: string[][] = [];
	for (let at = 0; ; at++) {
		const entry = dictionary[at === 0 ? word : `${word}(${at})`];
		if (entry === undefined) return list;
		list.push(entry.split(' ').map((phoneme) => phoneme.replace(/\d/, '')));
	}
}
