/** Sound in, decisions out: features, head and decoder in the same steps of 80 ms on the page and on the command line. */
import { confidenceOf, kindOf, SpikeFinder, type Spike } from './decoder';
import { type EnrolledWord, Prototypes } from './enrolment';
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

/** Nearer than this to the mean of an operator's takes (cosine) is that word. It does not tell people apart: another's is as near. */
const NEAR = 0.75;
/** Confidence of an enrolled word by its nearness and its lead over the next, and the constant: set by hand, not calibrated. */
const NEARNESS_WEIGHTS = [12, 15, -9] as const;
/** Steps whose hidden vectors are kept: a spike is weighed at most so long after its peak. */
const KEPT_STEPS = 8;

export class Listener {
	readonly #features: Features;
	readonly #head: Head;
	readonly #finder: SpikeFinder;
	#open: ReadonlySet<string>;
	#prototypes: Prototypes | null = null;
	#kept: Float32Array[] = [];

	constructor(readonly model: EarsModel, features: Features = new SpeechFeatures(model.embedding), head: Head = new HeadNetwork(model.words, model.head)) {
		this.#features = features;
		this.#head = head;
		this.#finder = new SpikeFinder(head.words);
		this.#open = new Set(head.words);
	}

	/** Words that may be decided on. Throws where one is not of the vocabulary. */
	setOpen(words: readonly string[]): void {
		const unknown = words.filter((word) => !this.#head.words.includes(word));
		if (unknown.length > 0) throw new Error(`not in the vocabulary: ${unknown.join(', ')}`);
		this.#open = new Set(words);
		this.#openFinder();
	}

	/** An operator's takes, from `takeOf`; none: anyone's words. */
	enrol(words: readonly EnrolledWord[]): void {
		this.#prototypes = words.length > 0 ? new Prototypes(words) : null;
		this.#openFinder();
	}

	/** An enrolled operator may say any sound for a word: no spike is passed over before it was compared. */
	#openFinder(): void {
		this.#finder.setOpen(this.#prototypes ? this.#head.words : [...this.#open]);
	}

	/** The vector of one word said alone: the hidden layer where a word is likeliest to end. Forgets what was heard before. */
	takeOf(samples: Float32Array): Float32Array {
		this.reset();
		let [most, vector] = [-1, new Float32Array(0)];
		for (const sound of [samples, new Float32Array(STEP_SAMPLES * 5)]) {
			this.#features.push(sound, (one) => {
				const { logProbabilities, hidden } = this.#head.step(one);
				const some = 1 - Math.exp(logProbabilities[this.#head.words.length]!);
				if (some > most) [most, vector] = [some, hidden.slice()];
			});
		}
		this.reset();
		return vector;
	}

	/** Forgets what was heard: as after a long silence. Steps count from here. */
	reset(): void {
		this.#features.reset();
		this.#head.reset();
		this.#finder.reset();
		this.#kept = [];
	}

	/** Adds samples at 16 kHz; `take` gets what was heard in them. */
	push(samples: Float32Array, take: (hearing: Hearing) => void): void {
		this.#features.push(samples, (vector) => {
			const { logProbabilities, hidden } = this.#head.step(vector);
			if (this.#prototypes) this.#kept = [hidden.slice(), ...this.#kept].slice(0, KEPT_STEPS);
			const spike = this.#finder.step(logProbabilities);
			const hearing = spike && (this.#byOperator(spike) ?? this.#byAnyone(spike));
			if (hearing) take(hearing);
		});
	}

	/** What the spike is by the operator's takes; undefined where they say nothing about it. */
	#byOperator(spike: Spike): Hearing | undefined {
		const ranked = this.#prototypes?.ranked(this.#kept[spike.endStep - spike.peakStep]!, this.#open) ?? [];
		const [first, second] = ranked;
		if (!first || first.nearness < NEAR) return undefined;
		const confidence = confidenceOf([first.nearness, first.nearness - (second?.nearness ?? 0)], NEARNESS_WEIGHTS);
		const alternatives = ranked.slice(0, 3).map(({ word, nearness }, i) => ({ word, confidence: i === 0 ? confidence : Math.max(0, nearness) * (1 - confidence) }));
		return { unsure: false, word: first.word, confidence, step: spike.endStep, alternatives };
	}

	#byAnyone(spike: Spike): Hearing | undefined {
		if (!this.#open.has(spike.word)) return undefined;
		const { weights, threshold } = this.model.weighing;
		const confidence = confidenceOf(spike.evidence, weights);
		const alternatives = spike.shares.map(({ word, share }) => ({ word, confidence: word === spike.word ? confidence : share * (1 - confidence) }));
		if (confidence < threshold[kindOf(spike.word)]) return { unsure: true, alternatives, step: spike.endStep };
		return { unsure: false, word: spike.word, confidence, step: spike.endStep, alternatives };
	}
}
