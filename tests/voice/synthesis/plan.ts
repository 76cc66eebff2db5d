/** What the synthesisers say for training: every word in many voices, strings of digits, words like them, words unlike them, talk. */
import { join } from 'node:path';
import { chanceFrom, type Chance } from '../random';
import { DIGITS, VOCABULARY } from '../vocabulary';
import { ordinaryWords, saidLike, soundAlikes } from './likeness';
import type { Utterance } from './speak';
import { VOICES, type Voice } from './voices';

export interface Spoken extends Utterance {
	/** Words of the vocabulary said, in order; none for a counter-example. */
	readonly words: readonly string[];
	readonly kind: 'word' | 'string' | 'alike' | 'other' | 'talk' | 'in talk';
}

/** How many of each; `word` and `alike` are for each word of the vocabulary. */
export interface Amounts {
	readonly word: number;
	readonly strings: number;
	readonly alike: number;
	readonly other: number;
	readonly talk: number;
	/** Sentences in which words of the vocabulary stand, for each word: in the flow of talk they are no commands. */
	readonly inTalk: number;
}

export const AMOUNTS: Amounts = { word: 120, strings: 1500, alike: 50, other: 2000, talk: 600, inTalk: 50 };

/** Single vocabulary words: a text that holds one is no counter-example. */
const singles = VOCABULARY.filter((word) => !word.includes(' '));
const holdsVocabulary = (text: string) => {
	const plain = ` ${text.toLowerCase()} `;
	return VOCABULARY.some((word) => plain.includes(` ${word.toLowerCase()} `)) || text.split(' ').some((word) => saidLike(word, singles));
};

/** Voices that are not espeak's are few but unlike it: they get a quarter of all turns. */
function voiceFor(chance: Chance, voices: readonly Voice[]): Voice {
	const others = voices.filter((voice) => voice.engine !== 'espeak');
	return chance.unit() < 0.25 && others.length > 0 ? chance.pick(others) : chance.pick(voices);
}

export function plan(folder: string, seed: number, amounts: Amounts = AMOUNTS): Spoken[] {
	const voices = VOICES.filter((voice) => !voice.heldBack);
	const chance = chanceFrom('plan', seed);
	const out: Spoken[] = [];
	const say = (kind: Spoken['kind'], text: string, words: readonly string[]) => {
		const voice = voiceFor(chance, voices);
		const [rate, pitch] = [chance.between(0.75, 1.35), chance.between(0.7, 1.4)];
		out.push({ kind, text, words, voice, rate, pitch, path: join(folder, kind, `${out.length}.wav`) });
	};
	for (const word of VOCABULARY) for (let i = 0; i < amounts.word; i++) say('word', word, [word]);
	const inStrings = [...DIGITS, ...DIGITS, 'point', 'minus'];
	for (let i = 0; i < amounts.strings; i++) {
		const words = Array.from({ length: 2 + chance.below(4) }, () => chance.pick(inStrings));
		say('string', words.join(chance.unit() < 0.5 ? ' ' : ', '), words);
	}
	for (const word of VOCABULARY) {
		const alike = soundAlikes(word, 60).filter((candidate) => !holdsVocabulary(candidate));
		// a phrase has no single word like it: its own parts, said alone, stand for that
		const parts = word.split(' ').filter((part) => word.includes(' ') && part.length > 1 && !holdsVocabulary(part));
		const pool = [...alike, ...parts, ...parts];
		for (let i = 0; i < amounts.alike && pool.length > 0; i++) say('alike', chance.pick(pool), []);
	}
	const ordinary = ordinaryWords().filter((word) => !holdsVocabulary(word));
	for (let i = 0; i < amounts.other; i++) say('other', chance.pick(ordinary), []);
	for (let i = 0; i < amounts.talk; i++) {
		say('talk', Array.from({ length: 5 + chance.below(7) }, () => chance.pick(ordinary)).join(' '), []);
	}
	const some = (count: number) => Array.from({ length: count }, () => chance.pick(ordinary));
	for (const word of VOCABULARY) {
		for (let i = 0; i < amounts.inTalk; i++) {
			const [before, after] = chance.unit() < 0.25 ? [0, 2 + chance.below(3)] : [1 + chance.below(3), chance.below(3)];
			say('in talk', [...some(before), word, ...some(after)].join(' '), []);
		}
	}
	return out;
}
