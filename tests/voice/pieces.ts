/**
 * Writes what the training joins into scenes: every piece of sound once, trimmed and at 8 kHz (the features hear nothing above 3.8 kHz),
 * and the scenes that are made of them. Usage: pieces (a part of train).
 * pieces.pcm: 16-bit samples one piece after another; pieces.jsonl: where each lies and ends; scenes.jsonl: kind, pieces, words, fold.
 */
import { closeSync, mkdirSync, openSync, readFileSync, writeFileSync, writeSync } from 'node:fs';
import { join, relative } from 'node:path';
import { resample } from '$lib/voice/resample';
import { readWav } from '$lib/voice/wav';
import { SAMPLE_RATE } from '$lib/voice/features/mel';
import { cacheFolder, dataFolder } from './paths';
import { load } from './recordings';
import { loudPart, type Piece, scenes, trimmed } from './scenes';
import { keptPlan, SEED } from './synthesis/kept-plan';
import { VOCABULARY } from './vocabulary';

const KEPT_RATE = 8000;

const base = dataFolder();
const folder = join(cacheFolder(), 'pieces');
mkdirSync(folder, { recursive: true });
const sound = openSync(join(folder, 'pieces.pcm'), 'w');
const places = new Map<string, number>();
const index: string[] = [];
let start = 0;

function soundOf(piece: Piece): Float32Array {
	if (piece.part || !piece.path.endsWith('.wav')) return load(piece);
	const { samples, sampleRate } = readWav(readFileSync(piece.path));
	return resample(samples, sampleRate, SAMPLE_RATE);
}

/** The piece's number; written at its first use. */
function placeOf(piece: Piece): number {
	const key = JSON.stringify([piece.path, piece.part, piece.trim]);
	const known = places.get(key);
	if (known !== undefined) return known;
	const whole = soundOf(piece);
	const part = piece.trim ? trimmed(whole) : whole;
	const kept = resample(part, SAMPLE_RATE, KEPT_RATE);
	const bytes = Int16Array.from(kept, (x) => Math.max(-32768, Math.min(32767, Math.round(x * 32768))));
	writeSync(sound, new Uint8Array(bytes.buffer));
	index.push(JSON.stringify({ path: relative(base, piece.path), part: piece.part, start, length: kept.length, loudEnd: Math.min(kept.length, Math.round(loudPart(part)[1] / 2)) }));
	start += kept.length;
	places.set(key, places.size);
	return places.size - 1;
}

const rows = scenes(base, keptPlan(), SEED).map(({ kind, pieces, words, fold }) =>
	JSON.stringify({ kind, pieces: pieces.map(placeOf), runsOn: pieces.map(({ runsOn }) => runsOn ?? false), words: words.map((word) => VOCABULARY.indexOf(word)), fold })
);
closeSync(sound);
writeFileSync(join(folder, 'pieces.jsonl'), index.join('\n') + '\n');
writeFileSync(join(folder, 'scenes.jsonl'), rows.join('\n') + '\n');
writeFileSync(join(folder, 'words.json'), JSON.stringify(VOCABULARY));
console.log(`${rows.length} scenes of ${places.size} pieces, ${(start / KEPT_RATE / 3600).toFixed(1)} h`);
