/** Words that sound much like one of the vocabulary: they teach the head where a word ends and another begins. */
import { dictionary } from 'cmu-pronouncing-dictionary';

/** Sounds without stress marks. */
const soundsOf = (word: string): string[] | undefined => dictionary[word]?.replace(/\d/g, '').split(' ');

/** Levenshtein distance in sounds. */
export function distance(a: readonly string[], b: readonly string[]): number {
	let row = Array.from({ length: b.length + 1 }, (_, j) => j);
	for (const [i, sound] of a.entries()) {
		const next = [i + 1];
		for (let j = 0; j < b.length; j++) next.push(Math.min(row[j]! + (sound === b[j] ? 0 : 1), row[j + 1]! + 1, next[j]! + 1));
		row = next;
	}
	return row[b.length]!;
}

export const ORDINARY = /^[a-z]{2,12}$/;

/** Ordinary words of the dictionary that are not said like `word` but one or two sounds from it, nearest first. */
export function soundAlikes(word: string, atMost: number): string[] {
	const sounds = word.split(' ').flatMap((part) => soundsOf(part.toLowerCase()) ?? []);
	const limit = sounds.length <= 3 ? 1 : 2;
	const found: [string, number][] = [];
	for (const candidate of Object.keys(dictionary)) {
		const said = ORDINARY.test(candidate) ? soundsOf(candidate) : undefined;
		if (!said || Math.abs(said.length - sounds.length) > limit) continue;
		const apart = distance(sounds, said);
		if (apart > 0 && apart <= limit) found.push([candidate, apart]);
	}
	return found.sort((a, b) => a[1] - b[1]).slice(0, atMost).map(([candidate]) => candidate);
}

/** Whether a word is said exactly as one of `words` is ("ate", "won", "know"). */
export function saidLike(candidate: string, words: readonly string[]): boolean {
	const said = soundsOf(candidate)?.join(' ');
	return said !== undefined && words.some((word) => soundsOf(word)?.join(' ') === said);
}

/** All ordinary words, in the dictionary's order. */
export const ordinaryWords = (): string[] => Object.keys(dictionary).filter((word) => ORDINARY.test(word));
