/** Scenes to train on: who says what, one after another. In what room, how fast and in what noise is drawn anew each time (training/scenes.py). */
import { existsSync } from 'node:fs';
import { SAMPLE_RATE } from '$lib/voice/features/mel';
import { chanceFrom, type Chance } from './random';
import { load, talkRecordings, wordRecordings, type Recording } from './recordings';
import { rms } from './signal/noise';
import type { Spoken } from './synthesis/plan';

export interface Piece {
	readonly path: string;
	readonly part?: readonly [number, number];
	/** Trimmed of its silence, so that the gap to the next piece is the scene's own. */
	readonly trim: boolean;
	/** Said in one breath with the next: hardly a gap. */
	readonly runsOn?: true;
}

export interface Scene {
	readonly id: number;
	readonly kind: 'word' | 'string' | 'other' | 'talk' | 'in talk' | 'noise' | 'synthetic word' | 'synthetic string' | 'synthetic other';
	readonly pieces: readonly Piece[];
	readonly words: readonly string[];
	/** −1: synthetic, in all folds' training. */
	readonly fold: number;
}

/** Copies of each recording, each in another scene each time. Digits of few speakers get more, synthetic speech one each. */
const COPIES = { 'yes no stop': 6, digit: 16, fsdd: 4, unused: 4, other: 12, talk: 1, cuttings: 1, noise: 4, stringsOfOne: 400, stringsOfMany: 400, inTalk: 600 };
const TALK_PIECE_S = 3;

const pieceOf = (r: Recording, trim = false): Piece => ({ path: r.path, part: r.part, trim });

function copiesOf(r: Recording): number {
	if (r.source === 'noise') return COPIES.noise;
	if (r.source === 'fsdd') return COPIES.fsdd;
	if (r.words.length === 0) return ['go', 'up', 'down', 'left', 'right', 'on', 'off'].includes(r.word) ? COPIES.unused : COPIES.other;
	return ['yes', 'no', 'stop'].includes(r.word) ? COPIES['yes no stop'] : COPIES.digit;
}

/** Strings of 2 to 5 digits, each from the digits of one fold. */
function strings(digits: readonly Recording[], count: number, chance: Chance): Omit<Scene, 'id'>[] {
	return Array.from({ length: count }, () => {
		const picked = Array.from({ length: 2 + chance.below(4) }, () => chance.pick(digits));
		return { kind: 'string', pieces: picked.map((r) => pieceOf(r, true)), words: picked.map((r) => r.word), fold: digits[0]!.fold };
	});
}

/**
 * Words of the vocabulary in the flow of talk, each with talk before it, after it or both: no command. Word and talk are of one fold.
 * They teach the head that who gives a command pauses.
 */
function inTalk(words: readonly Recording[], talk: readonly Recording[], count: number, chance: Chance): Omit<Scene, 'id'>[] {
	const bit = (): Piece => {
		const r = chance.pick(talk);
		const [from, to] = r.part!;
		const length = Math.min(to - from, chance.between(0.5, 1.4));
		const start = chance.between(from, to - length);
		return { path: r.path, part: [start, start + length], trim: true, runsOn: true };
	};
	return Array.from({ length: count }, (): Omit<Scene, 'id'> => {
		const word: Piece = { ...pieceOf(chance.pick(words), true), runsOn: true };
		const where = chance.unit();
		const pieces = where < 0.4 ? [bit(), word] : where < 0.6 ? [word, bit()] : [bit(), word, bit()];
		return { kind: 'in talk', pieces, words: [], fold: words[0]!.fold };
	});
}

function talkPieces(r: Recording): Piece[] {
	const [from, to] = r.part!;
	const count = Math.max(1, Math.round((to - from) / TALK_PIECE_S));
	const length = (to - from) / count;
	return Array.from({ length: count }, (_, i) => ({ path: r.path, part: [from + i * length, from + (i + 1) * length] as const, trim: false }));
}

/**
 * Talk cut where it is quietest, about every 0.3 to 1 s, as if each piece were said alone: what is no word of ours, in many voices.
 */
function talkCuttings(r: Recording): Piece[] {
	const sound = load(r);
	const frame = SAMPLE_RATE / 50;
	const levels = Array.from({ length: Math.floor(sound.length / frame) }, (_, i) => rms(sound.subarray(i * frame, (i + 1) * frame)));
	const pieces: Piece[] = [];
	for (let from = 0; from + 50 < levels.length; ) {
		const window = levels.slice(from + 15, from + 50);
		const to = from + 15 + window.indexOf(Math.min(...window));
		const start = r.part![0] + from / 50;
		pieces.push({ path: r.path, part: [start, r.part![0] + to / 50], trim: true });
		from = to;
	}
	return pieces;
}

/** All scenes, in an order that depends on the seed alone. */
export function scenes(data: string, spoken: readonly Spoken[], seed: number): Scene[] {
	const chance = chanceFrom('scenes', seed);
	const words = wordRecordings(data);
	const out: Omit<Scene, 'id'>[] = [];
	for (const r of words) {
		const kind = r.source === 'noise' ? 'noise' : r.words.length > 0 ? 'word' : 'other';
		for (let copy = 0; copy < copiesOf(r); copy++) out.push({ kind, pieces: [pieceOf(r)], words: r.words, fold: r.fold });
	}
	const isDigit = (r: Recording) => r.words.length > 0 && !['yes', 'no', 'stop'].includes(r.word);
	for (const speaker of ['george', 'jackson', 'lucas']) {
		out.push(...strings(words.filter((r) => r.source === 'fsdd' && r.speaker === speaker), COPIES.stringsOfOne, chance));
	}
	for (let fold = 0; fold < 5; fold++) {
		out.push(...strings(words.filter((r) => r.source === 'speech-commands' && isDigit(r) && r.fold === fold), COPIES.stringsOfMany, chance));
	}
	const talk = talkRecordings(data);
	for (let fold = 0; fold < 5; fold++) {
		const said = words.filter((r) => r.words.length > 0 && r.fold === fold);
		out.push(...inTalk(said, talk.filter((r) => r.fold === fold), COPIES.inTalk, chance));
	}
	for (const r of talk) {
		for (let copy = 0; copy < COPIES.talk; copy++) {
			for (const piece of talkPieces(r)) out.push({ kind: 'talk', pieces: [piece], words: [], fold: r.fold });
		}
		for (let copy = 0; copy < COPIES.cuttings; copy++) {
			for (const piece of talkCuttings(r)) out.push({ kind: 'other', pieces: [piece], words: [], fold: r.fold });
		}
	}
	for (const s of spoken) {
		if (!existsSync(s.path)) throw new Error(`${s.path} is missing: synthesise it first`);
		const kind = s.kind === 'word' ? 'synthetic word' : s.kind === 'string' ? 'synthetic string' : 'synthetic other';
		out.push({ kind, pieces: [{ path: s.path, trim: s.kind === 'word' }], words: s.words, fold: -1 });
	}
	for (let i = 0; i < 3000; i++) out.push({ kind: 'noise', pieces: [], words: [], fold: -1 });
	return out.map((scene, id) => ({ ...scene, id }));
}

/** First and last sample of what lies less than 30 dB below the loudest 20 ms. */
export function loudPart(samples: Float32Array): readonly [number, number] {
	const frame = SAMPLE_RATE / 50;
	const levels = Array.from({ length: Math.ceil(samples.length / frame) }, (_, i) => rms(samples.subarray(i * frame, (i + 1) * frame)));
	const loud = Math.max(...levels) * 10 ** (-30 / 20);
	return [levels.findIndex((level) => level >= loud) * frame, Math.min(samples.length, (levels.findLastIndex((level) => level >= loud) + 1) * frame)];
}

/** Cuts away what comes before and after the loud part, but for 30 ms on either side. */
export function trimmed(samples: Float32Array): Float32Array {
	const [first, last] = loudPart(samples);
	return samples.subarray(Math.max(0, first - 480), Math.min(samples.length, last + 480));
}
