/** Runs the decoder over kept probabilities: spikes of a trial under a gate, and decisions from them. */
import { Judge, SpikeFinder, type Spike, type Weighing } from '$lib/voice/decoder';
import { VOCABULARY } from '../vocabulary';
import type { Posteriors } from './cache';
import { QUIET } from './replay';

export function spikesOf(trial: Posteriors, open: readonly string[]): Spike[] {
	const finder = new SpikeFinder(VOCABULARY, open);
	const spikes: Spike[] = [];
	let next = 0;
	for (let step = 0; step < trial.steps; step++) {
		const lively = trial.lively[next]?.step === step ? trial.lively[next++]! : undefined;
		const spike = finder.step(lively?.logP ?? QUIET);
		if (spike) spikes.push(spike);
	}
	return spikes;
}

export interface Decided {
	readonly word: string;
	readonly confidence: number;
	readonly step: number;
}

export function decisionsOf(spikes: readonly Spike[], weighing: Weighing): Decided[] {
	const judge = new Judge(weighing);
	return spikes.flatMap((spike) => {
		const { confidence, decided } = judge.judge(spike);
		return decided ? [{ word: spike.word, confidence, step: spike.endStep }] : [];
	});
}
