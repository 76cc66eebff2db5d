/** What a take tells of who said it: numbers, no sound. */
import { added, cepstra, CLASSES, type Eigenvoices, type Evidence, VOICES } from './eigenvoices';
import { lastWord, type LastWord } from './last-word';
import { type SoundRow, SoundRows } from './sound-rows';

export interface TakeVoice {
	/** The eigenvoices that it is told in (voices.ts): to others the numbers mean nothing. */
	readonly of: string;
	/** Rows in each class, then the pull towards each eigenvoice (eigenvoices.ts). */
	readonly evidence: ArrayLike<number>;
	/** dB re full scale, the room's taken off: how loud the operator is at this microphone. */
	readonly levelDb: number;
	/** log2 of Hz; null where the word has no tone. */
	readonly pitch: number | null;
}

export const TAKE_VOICE_NUMBERS = CLASSES + VOICES;

const VOICED = 0.7;
const VOICED_DEPTH_DB = 20;
const FEWEST_VOICED = 5;

/** Middle pitch of a word's voiced rows. */
function pitchOf({ rows }: LastWord): number | null {
	const peakDb = rows.reduce((most, { levelDb }) => Math.max(most, levelDb), -Infinity);
	const voiced = rows.filter(({ voicing, levelDb }) => voicing > VOICED && levelDb > peakDb - VOICED_DEPTH_DB).map(({ pitch }) => pitch);
	return voiced.length < FEWEST_VOICED ? null : median(voiced);
}

export function median(numbers: readonly number[]): number {
	const sorted = numbers.toSorted((a, b) => a - b);
	return (sorted[(sorted.length - 1) >> 1]! + sorted[sorted.length >> 1]!) / 2;
}

export function rowsOf(sound: Float32Array): SoundRow[] {
	const rows: SoundRow[] = [];
	new SoundRows().push(sound, (row) => rows.push(row));
	return rows;
}

export const evidenceOf = ({ evidence }: TakeVoice): Evidence => ({ counts: Float64Array.from(Array.from(evidence).slice(0, CLASSES)), pull: Float64Array.from(Array.from(evidence).slice(CLASSES)) });

/** One word as the check hears it. */
export interface HeardVoice {
	readonly cepstra: readonly Float64Array[];
	readonly levelDb: number;
	readonly pitch: number | null;
}

/** Of the word that was said last. */
export function heardVoice(rows: readonly SoundRow[]): HeardVoice | undefined {
	const word = lastWord(rows);
	return word && { cepstra: cepstra(word.rows), levelDb: word.levelDb, pitch: pitchOf(word) };
}

/** A take as the check would hear it, without and with noise mixed in, half and half, so that a noisy room is met too. */
export function takeVoice(eigenvoices: Eigenvoices, clean: HeardVoice, noisy: HeardVoice): TakeVoice {
	const { counts, pull } = added([eigenvoices.of(clean.cepstra), eigenvoices.of(noisy.cepstra)], 0.5);
	return { of: eigenvoices.mark, evidence: Float32Array.of(...counts, ...pull), levelDb: clean.levelDb, pitch: clean.pitch };
}
