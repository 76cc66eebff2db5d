/**
 * Turns the head's probabilities into decisions. A word's spike in the sequence cost's output (ctc) is gathered until it is over,
 * then weighed: how much of it there was, how clear, against what else. The weights are fitted on speakers unheard in training,
 * so that the confidence is a probability; what stays below the threshold is kept quiet.
 */

/** Fitted by the bench; see the model card. */
export interface Weighing {
	/** For each of `evidence`'s numbers, then the constant. */
	readonly weights: readonly number[];
	/** Decisions less sure than this are not made. */
	readonly threshold: number;
}

/** A spike that is over. */
export interface Spike {
	readonly word: string;
	/** Index of its strongest step from the last reset, and of the step at which it was over. */
	readonly peakStep: number;
	readonly endStep: number;
	readonly evidence: readonly number[];
	/** Share of each open word in the spike, largest first. */
	readonly shares: readonly { readonly word: string; readonly share: number }[];
}

/** A spike begins above the first and is over below the second (probability that some word ends now). */
const BEGINS = 0.15;
const OVER = 0.1;
/** Longest spike; after this many steps it is weighed as it stands. */
const LONGEST_STEPS = 3;

const logit = (p: number) => Math.log(Math.min(1 - 1e-4, Math.max(1e-4, p)) / (1 - Math.min(1 - 1e-4, Math.max(1e-4, p))));

export class SpikeFinder {
	#step = -1;
	#since = -1;
	#peak = 0;
	#peakStep = 0;
	readonly #mass: Float64Array;
	readonly #most: Float64Array;
	#open: ReadonlySet<string>;

	constructor(readonly words: readonly string[], open: readonly string[] = words) {
		this.#mass = new Float64Array(words.length);
		this.#most = new Float64Array(words.length);
		this.#open = new Set(open);
	}

	/** Words that may be decided on from now; the others still compete, so that they are not taken for an open one. */
	setOpen(open: readonly string[]): void {
		this.#open = new Set(open);
	}

	reset(): void {
		this.#step = -1;
		this.#since = -1;
	}

	/** One step's log probabilities (words, then "no word"); returns a spike when one is over. */
	step(logProbabilities: Float32Array): Spike | undefined {
		this.#step++;
		const count = this.words.length;
		const some = 1 - Math.exp(logProbabilities[count]!);
		if (this.#since < 0) {
			if (some < BEGINS) return undefined;
			this.#since = this.#step;
			this.#peak = 0;
			this.#mass.fill(0);
			this.#most.fill(0);
		}
		if (some > this.#peak) [this.#peak, this.#peakStep] = [some, this.#step];
		for (let i = 0; i < count; i++) {
			const p = Math.exp(logProbabilities[i]!);
			this.#mass[i] = this.#mass[i]! + p;
			if (p > this.#most[i]!) this.#most[i] = p;
		}
		const long = this.#step - this.#since + 1;
		if (some >= OVER && long < LONGEST_STEPS) return undefined;
		this.#since = -1;
		return this.#spike(long);
	}

	#spike(long: number): Spike | undefined {
		const total = this.#mass.reduce((a, b) => a + b, 0);
		const order = [...this.words.keys()].sort((a, b) => this.#mass[b]! - this.#mass[a]!);
		const best = order[0]!;
		if (!this.#open.has(this.words[best]!)) return undefined;
		const rival = this.#mass[order[1]!]! / total;
		const evidence = [logit(this.#most[best]!), logit(Math.min(1, this.#mass[best]!)), this.#mass[best]!, logit(rival), long];
		const shares = order.filter((i) => this.#open.has(this.words[i]!)).slice(0, 3).map((i) => ({ word: this.words[i]!, share: this.#mass[i]! / total }));
		return { word: this.words[best]!, peakStep: this.#peakStep, endStep: this.#step, evidence, shares };
	}
}

/** Probability that a spike is the word it seems. */
export function confidenceOf(evidence: readonly number[], weights: readonly number[]): number {
	const sum = evidence.reduce((total, x, i) => total + x * weights[i]!, weights[evidence.length] ?? 0);
	return 1 / (1 + Math.exp(-sum));
}
