/**
 * Turns the head's probabilities into decisions. A word's spike in the sequence cost's output (ctc) is gathered until it is sure
 * or over, then weighed: how much of it there was, how clear, against what else. The weights are fitted on speakers unheard in
 * training, so that the confidence is a probability; what stays below the threshold is kept quiet.
 */

/** Fitted by voice:train; see the model card. */
export interface Weighing {
	/** For each of `evidence`'s numbers, then the constant. */
	readonly weights: readonly number[];
	/** Decisions less sure than this are not made, by kind of word. */
	readonly threshold: Thresholds;
}

export interface Thresholds {
	/** Digits, "point" and "minus": echoed and confirmed, so that one heard wrongly does no harm. */
	readonly digit: number;
	/** The same soon after another digit, where one more is likely. */
	readonly nextDigit: number;
	/** "stop": heard by mistake it costs one word, "resume"; missed it costs more. */
	readonly stop: number;
	/** Other single words. */
	readonly word: number;
	/** Two words and more: long enough to be heard surely, and likelier to turn up within talk. */
	readonly phrase: number;
}

/** A spike that is sure or over. */
export interface Spike {
	readonly word: string;
	/** Indices from the last reset of its strongest step and of the one at which it was weighed. */
	readonly peakStep: number;
	readonly endStep: number;
	readonly evidence: readonly number[];
	/** Share of each open word in the spike, largest first. */
	readonly shares: readonly { readonly word: string; readonly share: number }[];
}

/** A spike begins above the first and is over below the second (probability that some word ends now). */
const BEGINS = 0.1;
const OVER = 0.07;
/** A word as probable as this in one step need not be waited for. */
const SURE = 0.75;
/** Longest spike; after this many steps it is weighed as it stands. */
const LONGEST_STEPS = 3;

/** Steps after a word in which the same word is not told again. */
const TAIL_STEPS = 4;
/** An open word with less than this share of the spike is not what was said. */
const LEAST_SHARE = 0.2;
/** A lead over the next word beyond this (as a natural logarithm) says no more. */
const LONGEST_LEAD = 4;

const LIMIT = 1e-4;
const logit = (p: number) => {
	const held = Math.min(1 - LIMIT, Math.max(LIMIT, p));
	return Math.log(held / (1 - held));
};

export class SpikeFinder {
	#step = -1;
	#since = -1;
	#peak = 0;
	#peakStep = 0;
	/** The likeliest word of the last spike: what is left of it begins no other. */
	#spent = -1;
	#told = -1;
	#toldStep = 0;
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
		this.#spent = -1;
		this.#told = -1;
	}

	/** One step's log probabilities (words, then "no word"); returns a spike when one is sure or over. */
	step(logProbabilities: ArrayLike<number>): Spike | undefined {
		this.#step++;
		const some = 1 - Math.exp(logProbabilities[this.words.length]!);
		if (some < OVER) this.#spent = -1;
		if (this.#since < 0 && !this.#begins(logProbabilities, some)) return undefined;
		if (some > this.#peak) [this.#peak, this.#peakStep] = [some, this.#step];
		let sure = false;
		for (let i = 0; i < this.words.length; i++) {
			const p = Math.exp(logProbabilities[i]!);
			this.#mass[i] = this.#mass[i]! + p;
			if (p > this.#most[i]!) this.#most[i] = p;
			if (p >= SURE) sure = true;
		}
		const long = this.#step - this.#since + 1;
		if (!sure && some >= OVER && long < LONGEST_STEPS) return undefined;
		this.#since = -1;
		return this.#spike(long);
	}

	#begins(logProbabilities: ArrayLike<number>, some: number): boolean {
		if (some < BEGINS) return false;
		if (this.#spent >= 0) {
			let best = 0;
			for (let i = 1; i < this.words.length; i++) if (logProbabilities[i]! > logProbabilities[best]!) best = i;
			if (best === this.#spent) return false;
		}
		this.#since = this.#step;
		this.#peak = 0;
		this.#mass.fill(0);
		this.#most.fill(0);
		return true;
	}

	#spike(long: number): Spike | undefined {
		const total = this.#mass.reduce((a, b) => a + b, 0);
		const order = [...this.words.keys()].sort((a, b) => this.#mass[b]! - this.#mass[a]!);
		this.#spent = order[0]!;
		const best = order.find((i) => this.#open.has(this.words[i]!));
		if (best === undefined || this.#mass[best]! < LEAST_SHARE * total) return undefined;
		// nobody says a word twice so soon: it is the first one's tail
		if (best === this.#told && this.#step - this.#toldStep <= TAIL_STEPS) return undefined;
		[this.#told, this.#toldStep] = [best, this.#step];
		const rival = order.find((i) => i !== best)!;
		const lead = Math.log((this.#mass[best]! + LIMIT) / (this.#mass[rival]! + LIMIT));
		const evidence = [logit(this.#most[best]!), logit(Math.min(1, this.#mass[best]!)), Math.max(-LONGEST_LEAD, Math.min(LONGEST_LEAD, lead)), long];
		const shares = order.filter((i) => this.#open.has(this.words[i]!)).slice(0, 3).map((i) => ({ word: this.words[i]!, share: this.#mass[i]! / total }));
		return { word: this.words[best]!, peakStep: this.#peakStep, endStep: this.#step, evidence, shares };
	}
}

/** Probability that a spike is the word it seems. */
export function confidenceOf(evidence: readonly number[], weights: readonly number[]): number {
	const sum = evidence.reduce((total, x, i) => total + x * weights[i]!, weights[evidence.length] ?? 0);
	return 1 / (1 + Math.exp(-sum));
}

const DIGIT_WORDS: ReadonlySet<string> = new Set(['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'point', 'minus']);

/** Steps after a digit in which one more is likely: who reads a number says its digits one after another. */
const STRING_STEPS = 12;

function kindOf(word: string, inString: boolean): keyof Thresholds {
	if (DIGIT_WORDS.has(word)) return inString ? 'nextDigit' : 'digit';
	if (word === 'stop') return 'stop';
	return word.includes(' ') ? 'phrase' : 'word';
}

/** How surely a spike is its word, and whether that is sure enough to decide on it. */
export interface Judged {
	readonly confidence: number;
	readonly decided: boolean;
}

/** Judges spikes in the order in which they come: a digit makes another likelier. */
export class Judge {
	#digitStep = -Infinity;

	constructor(readonly weighing: Weighing) {}

	reset(): void {
		this.#digitStep = -Infinity;
	}

	judge({ word, evidence, endStep }: Spike): Judged {
		const confidence = confidenceOf(evidence, this.weighing.weights);
		const decided = confidence >= this.weighing.threshold[kindOf(word, endStep - this.#digitStep <= STRING_STEPS)];
		if (decided && DIGIT_WORDS.has(word)) this.#digitStep = endStep;
		return { confidence, decided };
	}
}
