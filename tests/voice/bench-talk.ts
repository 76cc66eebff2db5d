/**
 * Synthetic talk as the ears hear it: voices held back from training read a text in the public domain, verse by verse.
 * Usage: bench-talk SHARD SHARDS HOURS (called by bench). The text: the King James Version from Debian's package bible-kjv.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { SAMPLE_RATE } from '$lib/voice/features/mel';
import { resample } from '$lib/voice/resample';
import { readWav } from '$lib/voice/wav';
import { Kept } from './bench/listening';
import { cacheFolder } from './paths';
import { chanceFrom } from './random';
import { speak } from './synthesis/speak';
import { VOICES } from './synthesis/voices';
import { VOCABULARY } from './vocabulary';

const [shard, shards, hours] = process.argv.slice(2).map(Number);
if (shard === undefined || shards === undefined || hours === undefined) throw new Error('expected SHARD SHARDS HOURS');

/** Verses in which no word of the vocabulary is said: whatever is decided in them is false. */
function verses(): string[] {
	const text = execFileSync('bible', ['-f', 'gen1:1-rev22:21'], { maxBuffer: 2 ** 28 }).toString();
	const plain = text.split('\n').map((line) => line.replace(/^\S+ /, '').toLowerCase().replace(/[^a-z' ]+/g, ' ').trim());
	return plain.filter((verse) => verse.length > 40 && !VOCABULARY.some((word) => ` ${verse} `.includes(` ${word.toLowerCase()} `)));
}

const folder = join(cacheFolder(), 'bench-talk');
mkdirSync(folder, { recursive: true });
const voices = VOICES.filter((voice) => voice.heldBack);
const kept = new Kept();
const chance = chanceFrom('synthetic talk', shard);
const texts = chance.shuffle(verses());
for (let i = 0, steps = 0; steps < (hours * 45000) / shards; i++) {
	const voice = voices[i % voices.length]!;
	const path = join(folder, `${shard}.wav`);
	rmSync(path, { force: true });
	await speak([{ voice, text: texts[i]!, rate: chance.between(0.8, 1.25), pitch: chance.between(0.8, 1.25), path }]);
	const { sampleRate, samples } = readWav(readFileSync(path));
	const row = { kind: 'talk', source: 'synthetic', condition: 'clean', words: [], word: '', speaker: `${voice.engine} ${voice.name}`, fold: i % 5, path: texts[i]!, endS: null } as const;
	steps += kept.hear(row, [resample(samples, sampleRate, SAMPLE_RATE)]);
}
kept.write(folder, shard);
