/**
 * An operator's own words by their takes alone, as for words that the head does not know: half of the digits of each FSDD speaker are
 * enrolled, all are said. The embedding never saw a digit's name, so that no fold is needed. Talk of others is listened to as well.
 */
import { join } from 'node:path';
import { EMBEDDING_SIZE } from '$lib/voice/features/embedding';
import { type EnrolledWord, TAKES } from '$lib/voice/enrolment';
import { OwnWords } from '$lib/voice/own-words';
import { cacheFolder } from '../paths';
import { DIGITS } from '../vocabulary';
import { eachTrial } from './cache';
import { type Kept, takeOf } from './enrolled';
import type { Condition } from './trials';

export interface OwnResult {
	readonly speaker: string;
	readonly condition: Condition;
	/** The word was enrolled. */
	readonly known: boolean;
	readonly right: boolean;
	readonly told: number;
	/** From the word's end to the decision; absent where the word was not told. */
	readonly afterMs?: number;
}

export interface OwnWordsFigures {
	readonly results: readonly OwnResult[];
	/** Words told in other people's talk, over all enrolled speakers, and its hours (each speaker's hearing counted). */
	readonly toldInTalk: number;
	readonly talkHours: number;
}

const STEP_MS = 80;
const ENROLLED: readonly string[] = DIGITS.filter((_, i) => i % 2 === 0);

function heardIn(own: OwnWords, vectors: Float32Array): { word: string; step: number }[] {
	const told: { word: string; step: number }[] = [];
	own.reset();
	for (let step = 0; (step + 1) * EMBEDDING_SIZE <= vectors.length; step++) {
		const found = own.step(vectors.subarray(step * EMBEDDING_SIZE, (step + 1) * EMBEDDING_SIZE));
		if (found?.sure) told.push({ word: found.matches[0]!.word, step });
	}
	return told;
}

export function ownWordsFigures(): OwnWordsFigures {
	const said: Kept[] = [];
	const talk: Float32Array[] = [];
	eachTrial(join(cacheFolder(), 'bench'), (row, vectors) => {
		if (row.kind === 'word' && row.source === 'fsdd') said.push({ row, vectors: vectors.slice(), take: Number(/_(\d+)\.wav$/.exec(row.path)?.[1]) });
		if (row.kind === 'talk') talk.push(vectors.slice());
	});
	said.sort((a, b) => a.take - b.take);
	const results: OwnResult[] = [];
	let toldInTalk = 0;
	const speakers = [...new Set(said.map(({ row }) => row.speaker))];
	for (const speaker of speakers) {
		const all = said.filter(({ row }) => row.speaker === speaker);
		const clean = all.filter(({ row }) => row.condition === 'clean');
		const taken = ENROLLED.flatMap((word) => clean.filter(({ row }) => row.word === word).slice(0, TAKES));
		const paths = new Set(taken.map(({ row }) => row.path));
		const words: EnrolledWord[] = ENROLLED.map((word) => ({ word, takes: taken.filter(({ row }) => row.word === word).map((kept) => takeOf(kept, all)) }));
		const own = new OwnWords(words);
		own.setOpen(new Set(ENROLLED));
		for (const { row, vectors } of all.filter((kept) => !paths.has(kept.row.path))) {
			const told = heardIn(own, vectors);
			const known = ENROLLED.includes(row.word);
			const right = known && told.length === 1 && told[0]!.word === row.word;
			results.push({ speaker, condition: row.condition, known, right, told: told.length, ...(right ? { afterMs: (told[0]!.step + 1) * STEP_MS - row.endS! * 1000 } : {}) });
		}
		for (const vectors of talk) toldInTalk += heardIn(own, vectors).length;
	}
	const steps = talk.reduce((sum, vectors) => sum + vectors.length / EMBEDDING_SIZE, 0);
	return { results, toldInTalk, talkHours: (speakers.length * steps * STEP_MS) / 3_600_000 };
}
