/**
 * An operator's own words by their takes alone, as for words that the head does not know: half of the digits of each FSDD speaker are
 * enrolled, all are said, heard through the network that left the speaker out. Talk of others is listened to as well.
 */
import { join } from 'node:path';
import { EMBEDDING_SIZE } from '$lib/voice/features/embedding';
import { OwnWords } from '$lib/voice/own-words';
import { cacheFolder } from '../paths';
import { groupedBy } from '../voices/grouped';
import { DIGITS } from '../vocabulary';
import { eachTrial } from './cache';
import { enrollable, enrolledWith } from './enrolled';
import type { Replayed } from './replay';
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
	/** Words told in other people's talk, over all enrolled speakers, and its hours. */
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
	const said: Replayed[] = [];
	const talk: Replayed[] = [];
	eachTrial(join(cacheFolder(), 'bench'), (trial, vectors) => {
		if (trial.kind === 'word' && trial.source === 'fsdd') said.push({ trial, vectors });
		if (trial.kind === 'talk') talk.push({ trial, vectors });
	});
	const results: OwnResult[] = [];
	let [toldInTalk, talkSteps] = [0, 0];
	for (const [speaker, all] of groupedBy(said, ({ trial }) => trial.speaker)) {
		const { fold } = all[0]!.trial;
		const takes = new Map([...enrollable(all)].filter(([word]) => ENROLLED.includes(word)));
		const { words, used } = enrolledWith(takes, fold);
		const own = new OwnWords(words);
		own.setOpen(new Set(ENROLLED));
		for (const { trial, vectors } of all.filter((one) => !used.has(one.trial.path))) {
			const told = heardIn(own, vectors);
			const known = ENROLLED.includes(trial.word);
			const right = known && told.length === 1 && told[0]!.word === trial.word;
			results.push({ speaker, condition: trial.condition, known, right, told: told.length, ...(right ? { afterMs: (told[0]!.step + 1) * STEP_MS - trial.endS! * 1000 } : {}) });
		}
		// takes and talk must be of one network
		for (const { trial, vectors } of talk.filter((one) => one.trial.fold === fold)) {
			toldInTalk += heardIn(own, vectors).length;
			talkSteps += trial.steps;
		}
	}
	return { results, toldInTalk, talkHours: (talkSteps * STEP_MS) / 3_600_000 };
}
