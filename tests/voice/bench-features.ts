/** Features of everything that the bench listens to, one shard each call. Usage: bench-features SHARD SHARDS (called by bench). */
import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { EMBEDDING_SIZE } from '$lib/voice/features/embedding';
import { SAMPLE_RATE } from '$lib/voice/features/mel';
import { SpeechFeatures } from '$lib/voice/features/speech-features';
import { fromHalf, toHalf } from '$lib/voice/half';
import { trials } from './bench/trials';
import { cacheFolder, dataFolder } from './paths';

const [shard, shards] = process.argv.slice(2).map(Number);
if (shard === undefined || shards === undefined) throw new Error('expected SHARD SHARDS');
const features = new SpeechFeatures(fromHalf(new Uint16Array(new Uint8Array(readFileSync('static/voice/embedding.f16')).buffer)));
const folder = join(cacheFolder(), 'bench');
mkdirSync(folder, { recursive: true });
const rows: string[] = [];
const parts: Uint16Array[] = [];
for (const [i, trial] of trials(dataFolder(), 180).entries()) {
	if (i % shards !== shard) continue;
	const numbers: number[] = [];
	features.reset();
	for (const sound of [trial.sound(), new Float32Array(SAMPLE_RATE)]) features.push(sound, (v) => numbers.push(...v));
	const { kind, source, condition, words, word, speaker, fold, path, endS } = trial;
	rows.push(JSON.stringify({ i, kind, source, condition, words, word, speaker, fold, path, endS, steps: numbers.length / EMBEDDING_SIZE }));
	parts.push(toHalf(Float32Array.from(numbers)));
}
writeFileSync(join(folder, `${shard}.jsonl`), rows.join('\n') + '\n');
writeFileSync(join(folder, `${shard}.part`), Buffer.concat(parts.map((part) => Buffer.from(part.buffer))));
renameSync(join(folder, `${shard}.part`), join(folder, `${shard}.f16`));
