/** Hears an operator's own words: the match that is nearest, once what follows is no nearer. */
import type { Spike } from './decoder';
import type { EnrolledWord } from './enrolment';
import { type Match, TakeMatcher } from './take-matcher';

export interface Found {
	/** Nearest first; the first is what was said. */
	readonly matches: readonly Match[];
	/** Near enough to be acted on. */
	readonly sure: boolean;
	readonly confidence: number;
}

export interface Nearness {
	/** Nearer than this is that word. */
	readonly sure: number;
	/** Nearer than this it may be. */
	readonly perhaps: number;
	/** Nearer than this is that word where the head hears a word end that the operator has said too. */
	readonly withHead: number;
}

/** Measured: model card, "own words". */
export const NEARNESS: Nearness = { sure: 0.17, perhaps: 0.22, withHead: 0.42 };
/** Another word that is so little farther off and comes nearer is waited for, at most so many steps: a short word may begin a longer one. */
const RIVAL_LEAD = 0.1;
const LONGEST_WAIT = 4;
/** Steps that must follow a word before the next: what is left of it is no other. */
const REST_STEPS = 3;
/** A word that may not be said now is nearer by this: then it was that one. */
const CLOSED_LEAD = 0.05;
/** Steps whose matches are kept for the head's spike: it comes at most so long before or after. */
const KEPT_STEPS = 6;
/** What a distance weighs against the logarithm of the head's share; a share of nothing counts for this much. */
const DISTANCE_WEIGHT = 10;
const LEAST_SHARE = 0.01;
/** Distances that count for a word the operator has not said, and for one that is not near at all. */
const UNSAID = 0.4;
const FAR = 0.5;

/**
 * Confidence by distance and by its lead over the next word, and the constant: fitted on FSDD (3 speakers, half of their digits enrolled,
 * all said), the constant moved from one foreign word in two to one in ten. The distances were those of the published network; not fitted anew.
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

	constructor(words: readonly EnrolledWord[], readonly nearness: Nearness = NEARNESS) {
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
		return this.#best !== null || (this.#recent[0]?.[0]?.distance ?? Infinity) < this.nearness.withHead;
	}

	/** One step's vector; returns a word when it has ended. */
	step(vector: ArrayLike<number>): Found | undefined {
		const matches = this.#opened(this.#matcher.step(vector));
		this.#recent = [matches, ...this.#recent].slice(0, KEPT_STEPS);
		const distance = matches[0]?.distance ?? Infinity;
		if (this.#resting > 0) {
			if (--this.#resting === 0 && distance < this.nearness.perhaps) this.#resting = 1;
			return undefined;
		}
		if (distance < Math.min(this.nearness.perhaps, this.#best?.[0]?.distance ?? Infinity)) {
			this.#best = matches;
			this.#waited = 0;
			return undefined;
		}
		if (!this.#best || (++this.#waited < LONGEST_WAIT && this.#rivalComes(matches))) return undefined;
		return this.#tell(this.#best, this.#best[0]!.distance < this.nearness.sure);
	}

	/**
	 * What the operator said where the head hears a word end: of the words that may be said the one that both together find likeliest.
	 * Undefined where it is none of the operator's, or too far from the takes; either way the word is over.
	 */
	atSpike({ word, shares }: Pick<Spike, 'word' | 'shares'>): Found | undefined {
		const distances = this.#nearest();
		const score = (one: string) => {
			const distance = this.#words.has(one) ? Math.min(FAR, distances.get(one) ?? FAR) : UNSAID;
			return Math.log((shares.find((share) => share.word === one)?.share ?? 0) + LEAST_SHARE) - DISTANCE_WEIGHT * distance;
		};
		const likeliest = [word, ...distances.keys()].reduce((best, one) => (score(one) > score(best) ? one : best));
		const distance = distances.get(likeliest) ?? Infinity;
		if (distance < this.nearness.withHead) {
			const rest = [...distances].filter(([one]) => one !== likeliest).map(([one, far]) => ({ word: one, distance: far }));
			return this.#tell([{ word: likeliest, distance }, ...rest.toSorted((a, b) => a.distance - b.distance)], true);
		}
		this.#rest();
		return undefined;
	}

	/** The smallest distance of each word in the last steps. */
	#nearest(): Map<string, number> {
		const nearest = new Map<string, number>();
		for (const { word, distance } of this.#recent.flat()) nearest.set(word, Math.min(distance, nearest.get(word) ?? Infinity));
		return nearest;
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
