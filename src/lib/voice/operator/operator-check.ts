/** Whether the word just decided on was said by the operator whose takes are enrolled, or by somebody else. */
import type { EnrolledWord } from '../enrolment';
import { added, type Eigenvoices, type Evidence } from './eigenvoices';
import { KEPT_ROWS } from './last-word';
import { type SoundRow, SoundRows } from './sound-rows';
import { evidenceOf, type HeardVoice, heardVoice, median, type TakeVoice } from './take-voice';
import type { VoiceWeighing } from './voices';

/** Fewer takes tell too little of a voice: with so many it was measured. */
export const LEAST_TAKES = 9;

/** Octaves off beyond which a pitch is no more somebody else's; where none is known, the middle of an operator's and a neighbour's. */
const MOST_OFF = 0.6;
const UNKNOWN_OFF = 0.12;
/** dB beside the takes beyond which a level tells no more. */
const LOUDEST = 3;
const FAINTEST = -20;

/** One operator's voice, from all takes. */
export interface OperatorVoice {
	readonly likeness: (word: Evidence) => number;
	readonly levelDb: number;
	readonly pitch: number | null;
}

export function operatorVoice(eigenvoices: Eigenvoices, takes: readonly TakeVoice[]): OperatorVoice {
	const pitches = takes.flatMap(({ pitch }) => (pitch === null ? [] : [pitch]));
	return {
		likeness: eigenvoices.against(added(takes.map(evidenceOf))),
		levelDb: takes.reduce((sum, { levelDb }) => sum + levelDb, 0) / takes.length,
		pitch: pitches.length > 0 ? median(pitches) : null
	};
}

/** What is weighed of a word: likeness of voice, how far off the pitch is, how much quieter than the takes it was. */
export function compared(operator: OperatorVoice, word: Omit<HeardVoice, 'cepstra'> & { readonly evidence: Evidence }): readonly number[] {
	const off = operator.pitch === null || word.pitch === null ? UNKNOWN_OFF : Math.min(MOST_OFF, Math.abs(word.pitch - operator.pitch));
	const louder = Math.max(FAINTEST, Math.min(LOUDEST, word.levelDb - operator.levelDb));
	return [operator.likeness(word.evidence), off, off * off, louder, louder < 0 ? (-louder * louder) / 10 : 0];
}

/** Logarithm of the odds that it was the operator. */
export const weighed = (numbers: readonly number[], { weights }: Pick<VoiceWeighing, 'weights'>): number =>
	numbers.reduce((sum, number, i) => sum + number * weights[i]!, weights.at(-1)!);

/** The voices of all takes that these eigenvoices can tell. */
export const voicesOf = (words: readonly EnrolledWord[], mark: string): TakeVoice[] => words.flatMap(({ takes }) => takes.flatMap(({ voice }) => (voice?.of === mark ? [voice] : [])));

/** Whether the takes tell enough of a voice. */
export const tellsVoice = (words: readonly EnrolledWord[], mark: string): boolean => voicesOf(words, mark).length >= LEAST_TAKES;

/** Hears along, in bounded memory, and says of the last word whether it was the operator's. */
export class OperatorCheck {
	readonly #eigenvoices: Eigenvoices;
	readonly #operator: OperatorVoice;
	readonly #weighing: VoiceWeighing;
	#sound = new SoundRows();
	#rows: SoundRow[] = [];

	/** Throws RangeError where the words' takes tell too little of a voice. */
	constructor(eigenvoices: Eigenvoices, weighing: VoiceWeighing, words: readonly EnrolledWord[]) {
		const takes = voicesOf(words, eigenvoices.mark);
		if (takes.length < LEAST_TAKES) throw new RangeError(`${takes.length} takes tell whose voice it is; expected at least ${LEAST_TAKES}`);
		this.#eigenvoices = eigenvoices;
		this.#operator = operatorVoice(eigenvoices, takes);
		this.#weighing = weighing;
	}

	reset(): void {
		this.#sound = new SoundRows();
		this.#rows = [];
	}

	/** Adds samples at 16 kHz. */
	push(samples: Float32Array): void {
		this.#sound.push(samples, (row) => this.#rows.push(row));
		if (this.#rows.length > KEPT_ROWS) this.#rows = this.#rows.slice(-KEPT_ROWS);
	}

	/** Of the word that was said last. What is too short or too faint to tell is nobody's. */
	isOperator(): boolean {
		const word = heardVoice(this.#rows);
		if (!word) return false;
		return weighed(compared(this.#operator, { ...word, evidence: this.#eigenvoices.of(word.cepstra) }), this.#weighing) >= this.#weighing.threshold;
	}
}
