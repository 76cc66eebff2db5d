/**
 * Finds where a word that is said alone begins and ends, by its level over the room's (the idea: L. R. Rabiner, M. R. Sambur, "An
 * algorithm for determining the endpoints of isolated utterances", Bell System Technical Journal 54, 1975; the numbers are set by hand).
 */
import { SAMPLE_RATE } from './features/mel';
import { levelDb } from './level';

/** Samples between which levels are taken: 20 ms. */
const FRAME = SAMPLE_RATE / 50;
/** Frames that the room's level is taken from (3 s), and the share of them that is quieter. */
const ROOM_FRAMES = 150;
const ROOM_SHARE = 0.2;
/** A word rises so far above the room, and is over when it stays below the second for so long; shorter than the third is a knock. */
const RISES_DB = 9;
const OVER_DB = 6;
const OVER_FRAMES = 17;
const SHORTEST_FRAMES = 5;
const LONGEST_FRAMES = 150;
/** Quieter than this no one speaks, however quiet the room. */
const FAINTEST_DB = -58;

export interface WordEnds {
	/** Samples from the first one that was pushed. */
	readonly from: number;
	readonly to: number;
	/** dB re full scale, over the word. */
	readonly levelDb: number;
	readonly roomDb: number;
	/** Reached full scale: cut off by the device. */
	readonly clipped: boolean;
	readonly long: boolean;
}

export class WordEndFinder {
	#pending = new Float32Array(0);
	#frames = 0;
	#room: number[] = [];
	#since = -1;
	#loudFrames = 0;
	#quietFrames = 0;
	#energy = 0;
	#peak = 0;

	/** The room's level so far, dB re full scale. */
	get roomDb(): number {
		const sorted = this.#room.toSorted((a, b) => a - b);
		return sorted[Math.floor(sorted.length * ROOM_SHARE)] ?? -90;
	}

	/** Adds samples at 16 kHz; `take` gets each word that is over. */
	push(samples: Float32Array, take: (word: WordEnds) => void): void {
		const all = new Float32Array(this.#pending.length + samples.length);
		all.set(this.#pending);
		all.set(samples, this.#pending.length);
		let at = 0;
		for (; at + FRAME <= all.length; at += FRAME) this.#frame(all.subarray(at, at + FRAME), take);
		this.#pending = all.slice(at);
	}

	#frame(frame: Float32Array, take: (word: WordEnds) => void): void {
		const level = levelDb(frame);
		const room = this.roomDb;
		const index = this.#frames++;
		if (this.#since < 0) {
			this.#room = [...this.#room, level].slice(-ROOM_FRAMES);
			if (level < Math.max(FAINTEST_DB, room + RISES_DB)) return;
			[this.#since, this.#loudFrames, this.#quietFrames, this.#energy, this.#peak] = [index, 0, 0, 0, 0];
		}
		if (level >= Math.max(FAINTEST_DB - RISES_DB + OVER_DB, room + OVER_DB)) {
			this.#loudFrames++;
			this.#quietFrames = 0;
			this.#energy += 10 ** (level / 10);
			this.#peak = frame.reduce((most, x) => Math.max(most, Math.abs(x)), this.#peak);
		} else this.#quietFrames++;
		const length = index + 1 - this.#since;
		const long = length >= LONGEST_FRAMES;
		if (this.#quietFrames < OVER_FRAMES && !long) return;
		const from = this.#since;
		this.#since = -1;
		// a room that has become louder is no word: learn it
		if (long) this.#room = [];
		if (this.#loudFrames < SHORTEST_FRAMES) return;
		take({
			from: from * FRAME, to: (index + 1 - this.#quietFrames) * FRAME, levelDb: 10 * Math.log10(this.#energy / this.#loudFrames), roomDb: room,
			clipped: this.#peak >= 0.999, long
		});
	}
}

/** What a person can do better at the next take. */
export type TakeVerdict = 'good' | 'too quiet' | 'too noisy' | 'too loud' | 'too long' | 'no word';

const QUIET_DB = -46;
/** Below this ratio of word to room the vectors are the room's as much as the word's. */
const LEAST_RATIO_DB = 12;
/** A room this loud drowns most voices at arm's length. */
const NOISY_ROOM_DB = -32;

/** By the sound alone; that it is no word is told by its vectors (likeness.ts). */
export function verdictOf({ levelDb, roomDb, clipped, long }: WordEnds): Exclude<TakeVerdict, 'no word'> {
	if (long) return 'too long';
	if (clipped) return 'too loud';
	if (levelDb - roomDb < LEAST_RATIO_DB) return roomDb > QUIET_DB - LEAST_RATIO_DB ? 'too noisy' : 'too quiet';
	return levelDb < QUIET_DB ? 'too quiet' : 'good';
}

export const isNoisyRoom = (roomDb: number): boolean => roomDb > NOISY_ROOM_DB;
