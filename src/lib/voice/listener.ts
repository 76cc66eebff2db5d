/** Sound in, decisions out: hearing and decoder in the same steps of 80 ms on the page and on the command line. */
import { Judge, SpikeFinder, type Spike } from './decoder';
import { DoubleHearing } from './double-hearing';
import { type EnrolledWord, isKnown } from './enrolment';
import type { EarsModel } from './model';
import type { OperatorCheck } from './operator/operator-check';
import { type Found, OwnWords } from './own-words';
import { type Decision, type Hears, STEP_SAMPLES } from './stages';

/** Something said that is not decided on: below the threshold, but not far. Two in a row lead to a question. */
export interface Unsure {
	readonly unsure: true;
	readonly alternatives: Decision['alternatives'];
	readonly step: number;
}

export type Hearing = (Decision & { readonly unsure: false }) | Unsure;

/** Counts whoever says it: a held run costs one word, a missed "stop" costs more. */
const FROM_ANYONE = 'stop';

/** Steps that the head's word waits while an operator's own may be ending, and an own word that is not near enough waits for the head. */
const WAIT_STEPS = 2;

interface Waiting {
	readonly spike?: Spike | undefined;
	readonly found?: Found | undefined;
	readonly left: number;
}

export class Listener {
	readonly #hears: Hears;
	readonly #finder: SpikeFinder;
	readonly #judge: Judge;
	#step = -1;
	#open: ReadonlySet<string>;
	#own: OwnWords | null = null;
	#check: OperatorCheck | null = null;
	/** What one of the two heard, kept back until the other has spoken. */
	#waiting: Waiting | null = null;

	constructor(readonly model: EarsModel, hears: Hears = new DoubleHearing(model)) {
		this.#hears = hears;
		this.#finder = new SpikeFinder(model.words);
		this.#judge = new Judge(model.weighing);
		this.#open = new Set(model.words);
	}

	/** Words that may be decided on. Throws where one is not of the vocabulary. */
	setOpen(words: readonly string[]): void {
		const unknown = words.filter((word) => !this.model.words.includes(word));
		if (unknown.length > 0) throw new Error(`not in the vocabulary: ${unknown.join(', ')}`);
		this.#open = new Set(words);
		this.#openParts();
	}

	/** An operator's takes (take.ts); none: anyone's words. Words with too few takes are left out. */
	enrol(words: readonly EnrolledWord[]): void {
		const known = words.filter(isKnown);
		this.#own = known.length > 0 ? new OwnWords(known) : null;
		this.#waiting = null;
		this.#openParts();
	}

	/** Tells of a word only where the check says that the operator said it, but for "stop"; null: whoever says it. */
	listenOnlyTo(check: OperatorCheck | null): void {
		this.#check = check;
	}

	/** An enrolled operator may say any sound for a word: no spike is passed over before it was compared. */
	#openParts(): void {
		this.#own?.setOpen(this.#open);
		this.#finder.setOpen(this.#own ? this.model.words : [...this.#open]);
	}

	/** Forgets what was heard: as after a long silence. Steps count from here. */
	reset(): void {
		this.#hears.reset();
		this.#finder.reset();
		this.#judge.reset();
		this.#own?.reset();
		this.#check?.reset();
		this.#waiting = null;
		this.#step = -1;
	}

	/** Adds samples at 16 kHz; `take` gets what was heard in them, `pass` what somebody else said where only the operator counts. */
	push(samples: Float32Array, take: (hearing: Hearing) => void, pass?: (hearing: Hearing) => void): void {
		// a check must hear no further than the word that it is asked about
		const most = this.#check ? STEP_SAMPLES : samples.length;
		for (let at = 0; at < samples.length; at += most) {
			const part = samples.subarray(at, at + most);
			this.#check?.push(part);
			this.#hears.push(part, ({ vector, logProbabilities }) => {
				this.#step++;
				const spike = this.#finder.step(logProbabilities);
				const hearing = this.#own ? this.#withOperator(this.#own, vector, spike) : spike && this.#byAnyone(spike);
				if (hearing) (this.#counts(hearing) ? take : pass)?.(hearing);
			});
		}
	}

	#counts(hearing: Hearing): boolean {
		return !this.#check || hearing.alternatives[0]?.word === FROM_ANYONE || this.#check.isOperator();
	}

	/** The operator's own takes go before the head; what one alone is not sure of waits a little for the other. */
	#withOperator(own: OwnWords, vector: Float32Array, heardByHead: Spike | undefined): Hearing | undefined {
		const tail = own.resting && !this.#waiting?.found;
		const found = own.step(vector) ?? this.#waiting?.found;
		const spike = (tail ? undefined : heardByHead) ?? this.#waiting?.spike;
		const left = (this.#waiting?.left ?? WAIT_STEPS + 1) - 1;
		this.#waiting = null;
		if (found && (found.sure || spike?.word === found.matches[0]!.word)) return this.#byOperator(found, true);
		if (!found && !spike) return undefined;
		if (left > 0 && (found || own.coming)) {
			this.#waiting = { spike, found, left };
			return undefined;
		}
		if (found) return this.#byOperator(found, false);
		const near = own.atSpike(spike!);
		return near ? this.#byOperator(near, true) : this.#byAnyone(spike!);
	}

	#byOperator({ matches, confidence }: Found, sure: boolean): Hearing {
		const alternatives = matches.slice(0, 3).map(({ word, distance }, i) => ({ word, confidence: i === 0 ? confidence : (1 - confidence) * Math.max(0, 1 - distance) }));
		return sure ? { unsure: false, word: matches[0]!.word, confidence, step: this.#step, alternatives } : { unsure: true, alternatives, step: this.#step };
	}

	#byAnyone(spike: Spike): Hearing | undefined {
		if (!this.#open.has(spike.word)) return undefined;
		const { confidence, decided } = this.#judge.judge(spike);
		const alternatives = spike.shares.map(({ word, share }) => ({ word, confidence: word === spike.word ? confidence : share * (1 - confidence) }));
		if (!decided) return { unsure: true, alternatives, step: spike.endStep };
		return { unsure: false, word: spike.word, confidence, step: spike.endStep, alternatives };
	}
}
