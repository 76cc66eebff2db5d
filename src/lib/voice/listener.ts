/** Sound in, decisions out: features, head and decoder in the same steps of 80 ms on the page and on the command line. */
import { confidenceOf, kindOf, SpikeFinder, type Spike } from './decoder';
import { SpeechFeatures } from './features/speech-features';
import { HeadNetwork } from './head-network';
import type { EarsModel } from './model';
import type { Decision, Features, Head } from './stages';

export const STEP_SAMPLES = 1280;

/** Something said that is not decided on: below the threshold, but not far. Two in a row lead to a question. */
export interface Unsure {
	readonly unsure: true;
	readonly alternatives: Decision['alternatives'];
	readonly step: number;
}

export type Hearing = (Decision & { readonly unsure: false }) | Unsure;

export class Listener {
	readonly #features: Features;
	readonly #head: Head;
	readonly #finder: SpikeFinder;

	constructor(readonly model: EarsModel, features: Features = new SpeechFeatures(model.embedding), head: Head = new HeadNetwork(model.words, model.head)) {
		this.#features = features;
		this.#head = head;
		this.#finder = new SpikeFinder(head.words);
	}

	/** Words that may be decided on. Throws where one is not of the vocabulary. */
	setOpen(words: readonly string[]): void {
		const unknown = words.filter((word) => !this.#head.words.includes(word));
		if (unknown.length > 0) throw new Error(`not in the vocabulary: ${unknown.join(', ')}`);
		this.#finder.setOpen(words);
	}

	/** Forgets what was heard: as after a long silence. Steps count from here. */
	reset(): void {
		this.#features.reset();
		this.#head.reset();
		this.#finder.reset();
	}

	/** Adds samples at 16 kHz; `take` gets what was heard in them. */
	push(samples: Float32Array, take: (hearing: Hearing) => void): void {
		this.#features.push(samples, (vector) => {
			const { logProbabilities } = this.#head.step(vector);
			const spike = this.#finder.step(logProbabilities);
			if (spike) take(this.#weigh(spike));
		});
	}

	#weigh(spike: Spike): Hearing {
		const { weights, threshold } = this.model.weighing;
		const confidence = confidenceOf(spike.evidence, weights);
		const alternatives = spike.shares.map(({ word, share }) => ({ word, confidence: word === spike.word ? confidence : share * (1 - confidence) }));
		if (confidence < threshold[kindOf(spike.word)]) return { unsure: true, alternatives, step: spike.endStep };
		return { unsure: false, word: spike.word, confidence, step: spike.endStep, alternatives };
	}
}
