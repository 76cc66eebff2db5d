/** The word that was said last, among the rows of the last seconds: where it stands out from the room. */
import type { SoundRow } from './sound-rows';

export interface LastWord {
	readonly rows: readonly SoundRow[];
	/** dB re full scale of its louder half, the room's taken off. */
	readonly levelDb: number;
}

/** Rows kept: what a room sounds like is learned from them, and the longest phrase fits. */
export const KEPT_ROWS = 250;
/** A word is decided on while its loudest part is not older than this. */
const PEAK_ROWS = 110;
/** Share of rows that are quieter than the room's level is set at. */
const ROOM_SHARE = 0.15;
/** A word's rows lie at most so far below its loudest, and so far above the room where the room allows it. */
const DEEPEST_DB = 25;
const OVER_ROOM_DB = 6;
/** A closed mouth inside a word ("stop", "eight") is no longer than this. */
const GAP_ROWS = 15;
/** Shorter is too little to know a voice by. */
const SHORTEST_ROWS = 12;
const FAINTEST_DB = -75;

const power = (db: number) => 10 ** (db / 10);

/** Undefined where nothing was said, or too little. */
export function lastWord(rows: readonly SoundRow[]): LastWord | undefined {
	const levels = rows.map(({ levelDb }) => levelDb);
	const from = Math.max(0, levels.length - PEAK_ROWS);
	const peakDb = levels.slice(from).reduce((a, b) => Math.max(a, b), -Infinity);
	if (peakDb < FAINTEST_DB) return undefined;
	const roomDb = levels.toSorted((a, b) => a - b)[Math.floor(levels.length * ROOM_SHARE)]!;
	const leastDb = Math.min(peakDb - OVER_ROOM_DB, Math.max(peakDb - DEEPEST_DB, roomDb + OVER_ROOM_DB));
	const peak = levels.indexOf(peakDb, from);
	const reach = (step: 1 | -1) => {
		let edge = peak;
		for (let at = peak + step; levels[at] !== undefined && Math.abs(at - edge) <= GAP_ROWS; at += step) if (levels[at]! > leastDb) edge = at;
		return edge;
	};
	const word = rows.slice(reach(-1), reach(1) + 1);
	if (word.length < SHORTEST_ROWS) return undefined;
	const powers = word.map(({ levelDb }) => power(levelDb) - power(roomDb)).sort((a, b) => b - a).slice(0, Math.ceil(word.length / 2));
	return { rows: word, levelDb: 10 * Math.log10(Math.max(powers.reduce((a, b) => a + b, 0) / powers.length, 1e-10)) };
}
