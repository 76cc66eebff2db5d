/** Fits the decoder's weights on words, talk and noise that the heads never heard. */
import { confidenceOf, type Weighing } from '$lib/voice/decoder';
import { DIGITS } from '../vocabulary';
import type { Posteriors } from './cache';
import { spikesOf } from './decide';
import { QUESTION, READING } from './gates';
import { logistic } from './logistic';

export const COMMANDS_RECORDED: readonly string[] = ['yes', 'no', 'stop'];

/** Shares of words outside the vocabulary, in noise 10 dB below, that may be taken for one of ours: the thresholds are the lowest that keep to it. */
const MOST_FALSE = { stop: 0.012, word: 0.015, digit: 0.018 } as const;
const GRID = [0.02, ...Array.from({ length: 19 }, (_, i) => (i + 1) / 20)];
/** No recording of these is at hand to choose by: phrases are kept to one false in an hour of synthetic talk, a further digit was never false in talk. */
const GIVEN = { nextDigit: 0.15, phrase: 0.98 } as const;

/** Spikes to fit on: those of words that the gate opens and have recordings, and of everything that is no word of ours. */
const observed = (trials: readonly Posteriors[], recorded: readonly string[], open: readonly string[]) =>
	trials
		.filter((trial) => trial.kind !== 'string' && (trial.words.length === 0 || recorded.includes(trial.word)))
		.flatMap((trial) => spikesOf(trial, open).map((spike) => ({ x: spike.evidence, right: spike.word === trial.word, weight: 1 })));

/** How surely each trial, none of which holds a word of ours, is taken for one of `counted`. */
const surest = (trials: readonly Posteriors[], weights: readonly number[], open: readonly string[], counted: readonly string[]) =>
	trials.map((trial) => Math.max(0, ...spikesOf(trial, open).filter(({ word }) => counted.includes(word)).map(({ evidence }) => confidenceOf(evidence, weights))));

/** The lowest threshold at which so few of them are taken. */
const lowest = (confidences: readonly number[], most: number) =>
	GRID.find((threshold) => confidences.filter((confidence) => confidence >= threshold).length <= most * confidences.length) ?? 1;

/** From two gates together: a question's and a reading's. */
export function fitWeighing(trials: readonly Posteriors[]): Weighing {
	const weights = logistic([...observed(trials, COMMANDS_RECORDED, QUESTION), ...observed(trials, DIGITS, READING)]);
	const others = trials.filter((trial) => trial.kind === 'word' && trial.words.length === 0 && trial.condition === '10 dB');
	const noises = trials.filter((trial) => trial.kind === 'noise');
	/** A command is never to be heard in noise; a digit does no harm before it is sent and confirmed. */
	const command = (counted: readonly string[], most: number) =>
		Math.max(lowest(surest(others, weights, QUESTION, counted), most), lowest(surest(noises, weights, QUESTION, counted), 0));
	const threshold = {
		...GIVEN,
		stop: command(['stop'], MOST_FALSE.stop),
		word: command(['yes', 'no'], MOST_FALSE.word),
		digit: lowest(surest(others, weights, READING, DIGITS), MOST_FALSE.digit)
	};
	return { weights, threshold };
}
