/** Fits the decoder's weights on words, talk and noise that the heads never heard. */
import type { Thresholds, Weighing } from '$lib/voice/decoder';
import { DIGITS } from '../vocabulary';
import type { Posteriors } from './cache';
import { spikesOf } from './decide';
import { QUESTION, READING } from './gates';
import { logistic } from './logistic';

export const COMMANDS_RECORDED: readonly string[] = ['yes', 'no', 'stop'];

/** Chosen on the curves that bench:voice prints: see the model card. */
export const THRESHOLDS: Thresholds = { digit: 0.6, word: 0.5, phrase: 0.9 };

/** Spikes to fit on: those of words that the gate opens and have recordings, and of everything that is no word of ours. */
const observed = (trials: readonly Posteriors[], recorded: readonly string[], open: readonly string[]) =>
	trials
		.filter((trial) => trial.kind !== 'string' && (trial.words.length === 0 || recorded.includes(trial.word)))
		.flatMap((trial) => spikesOf(trial, open).map((spike) => ({ x: spike.evidence, right: spike.word === trial.word, weight: 1 })));

/** From two gates together: a question's and a reading's. */
export const fitWeighing = (trials: readonly Posteriors[]): Weighing => ({
	weights: logistic([...observed(trials, COMMANDS_RECORDED, QUESTION), ...observed(trials, DIGITS, READING)]),
	threshold: THRESHOLDS
});
