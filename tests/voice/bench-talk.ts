/**
 * Features of synthetic talk: voices held back from training read a text in the public domain, verse by verse.
 * Usage: bench-talk SHARD SHARDS HOURS (called by bench). The text: the King James Version from Debian's package bible-kjv.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { EMBEDDING_SIZE } from '$lib/voice/features/embedding';
import { SAMPLE_RATE } from '$lib/voice/features/mel';
import { SpeechFeatures } from '$lib/voice/features/speech-features';
import { fromHalf, toHalf } from '$lib/voice/half';
import { resample } from '$lib/voice/resample';
import { readWav } from '$lib/voice/wav';
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

const features = new SpeechFeatures(fromHalf(new Uint16Array(new Uint8Array(readFileSync('static/voice/embedding.f16')).buffer)));
const folder = join(cacheFolder(), 'bench-talk');
mkdirSync(folder, { recursive: true });
const voices = VOICES.filter((voice) => voice.heldBack);
const rows: string[] = [];
const parts: Uint16Array[] = [];
const chance = chanceFrom('synthetic talk', shard);
const texts = chance.shuffle(verses());
for (let i = 0, steps = 0; steps < (hours * 45000) / shards; i++) {
	const voice = voices[i % voices.length]!;
	const path = join(folder, `${shard}.wav`);
	rmSync(path, { force: true });
	await speak([{ voice, text: texts[i]!, rate: chance.between(0.8, 1.25), pitch: chance.between(0.8, 1.25), path }]);
	const { sampleRate, samples } = readWav(readFileSync(path));
	const numbers: number[] = [];
	features.reset();
	features.push(resample(samples, sampleRate, SAMPLE_RATE), (v) => numbers.push(...v));
	steps += numbers.length / EMBEDDING_SIZE;
	rows.push(JSON.stringify({ kind: 'talk', source: 'synthetic', condition: 'clean', words: [], word: '', speaker: `${voice.engine} ${voice.name}`, fold: i % 5, path: texts[i], endS: null, steps: numbers.length / EMBEDDING_SIZE }));
	parts.push(toHalf(Float32Array.from(numbers)));
}
writeFileSync(join(folder, `${shard}.jsonl`), rows.join('\n') + '\n');
writeFileSync(join(folder, `${shard}.part`), Buffer.concat(parts.map((part) => Buffer.from(part.buffer))));
renameSync(join(folder, `${shard}.part`), join(folder, `${shard}.f16`));
