/** Hears an operator's own words: the match that is nearest, once what follows is no nearer. */
import type { EnrolledWord } from './enrolment';
import { type Match, TakeMatcher } from './take-matcher';

export interface Found {
	/** Nearest first; the first is what was said. */
	readonly matches: readonly Match[];
	/** Near enough to be acted on. */
	readonly sure: boolean;
	readonly confidence: number;
}

/** Nearer than this is that word; nearer than the second it may be. Measured: model card, "own words". */
const NEAR = 0.28;
const PERHAPS = 0.33;
/** Nearer than this is that word where the head hears a word end that the operator has said too. */
const NEAR_WITH_HEAD = 0.42;
/** Another word that is so little farther off and comes nearer is waited for, at most so many steps: a short word may begin a longer one. */
const RIVAL_LEAD = 0.1;
const LONGEST_WAIT = 4;
/** Steps that must follow a word before the next: what is left of it is no other. */
const REST_STEPS = 3;
/** A word that may not be said now is nearer by this: then it was that one. */
const CLOSED_LEAD = 0.05;
/** Steps whose matches are kept for the head's spike: it comes at most so long before or after. */
const KEPT_STEPS = 4;

/**
 * Confidence by distance and by its lead over the next word, and the constant: fitted on FSDD (3 speakers, half of their digits enrolled,
 * all said), the constant moved from one foreign word in two to one in ten.
 */
const WEIGHTS = [-33, 16, 8.9] as const;

function confidenceOf([first, second]: readonly Match[]): number {
	const lead = Math.min(0.3, (second?.distance ?? 1) - first!.distance);
	return 1 / (1 + Math.exp(-(WEIGHTS[0] * first!.distance + WEIGHTS[1] * lead + WEIGHTS[2])));
}

export class OwnWords {
	readonly #matcher: TakeMatcher;
	#best: readonly Match[] | null = null;
	#waited = 0;
	#recent: (readonly Match[])[] = [];
	#resting = 0;
	#open: ReadonlySet<string> = new Set();

	readonly #words: ReadonlySet<string>;

	constructor(words: readonly EnrolledWord[]) {
		this.#matcher = new TakeMatcher(words);
		this.#words = new Set(words.map(({ word }) => word));
	}

	/** Words that may be decided on; the others only compete. */
	setOpen(open: ReadonlySet<string>): void {
		this.#open = open;
	}

	reset(): void {
		this.#matcher.reset();
		this.#best = null;
		this.#recent = [];
		this.#resting = 0;
	}

	/** A word was told just now: what the head still hears is its tail. */
	get resting(): boolean {
		return this.#resting > 0;
	}

	/** A word may be ending: wait before the head decides alone. */
	get coming(): boolean {
		return this.#best !== null || (this.#recent[0]?.[0]?.distance ?? Infinity) < NEAR_WITH_HEAD;
	}

	/** One step's vector; returns a word when it has ended. */
	step(vector: ArrayLike<number>): Found | undefined {
		const matches = this.#opened(this.#matcher.step(vector));
		this.#recent = [matches, ...this.#recent].slice(0, KEPT_STEPS);
		const distance = matches[0]?.distance ?? Infinity;
		if (this.#resting > 0) {
			if (--this.#resting === 0 && distance < PERHAPS) this.#resting = 1;
			return undefined;
		}
		if (distance < Math.min(PERHAPS, this.#best?.[0]?.distance ?? Infinity)) {
			this.#best = matches;
			this.#waited = 0;
			return undefined;
		}
		if (!this.#best || (++this.#waited < LONGEST_WAIT && this.#rivalComes(matches))) return undefined;
		return this.#tell(this.#best, this.#best[0]!.distance < NEAR);
	}

	/**
	 * The word that the head takes for `word`, by the nearest of the last steps. Undefined where none is near, or where the operator has
	 * never said that word, so that any other would be a worse guess; either way the word is over.
	 */
	atSpike(word: string): Found | undefined {
		const best = this.#recent.filter((one) => one.length > 0).toSorted((a, b) => a[0]!.distance - b[0]!.distance)[0];
		if (best && best[0]!.distance < NEAR_WITH_HEAD && this.#words.has(word)) return this.#tell(best, true);
		this.#rest();
		return undefined;
	}

	#rivalComes(matches: readonly Match[]): boolean {
		const { word, distance } = this.#best![0]!;
		const rival = matches.find((one) => one.word !== word);
		const before = this.#recent[1]?.find((one) => one.word === rival?.word);
		return rival !== undefined && rival.distance < distance + RIVAL_LEAD && rival.distance < (before?.distance ?? Infinity);
	}

	#opened(all: readonly Match[]): readonly Match[] {
		const matches = all.filter(({ word }) => this.#open.has(word));
		return matches.length > 0 && matches[0]!.distance - all[0]!.distance < CLOSED_LEAD ? matches : [];
	}

	#tell(matches: readonly Match[], sure: boolean): Found {
		this.#rest();
		return { matches, sure, confidence: confidenceOf(matches) };
	}

	#rest(): void {
		this.#best = null;
		this.#recent = [];
		this.#resting = REST_STEPS;
	}
}
