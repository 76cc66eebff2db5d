/** Words, strings, talk and noise as the ears hear them, one shard each call. Usage: bench-words SHARD SHARDS (called by bench). */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { SAMPLE_RATE } from '$lib/voice/features/mel';
import { Kept } from './bench/listening';
import { trials } from './bench/trials';
import { cacheFolder, dataFolder } from './paths';

const NOISE_MINUTES = 180;

const [shard, shards] = process.argv.slice(2).map(Number);
if (shard === undefined || shards === undefined) throw new Error('expected SHARD SHARDS');
const folder = join(cacheFolder(), 'bench');
mkdirSync(folder, { recursive: true });
const kept = new Kept();
for (const [i, trial] of trials(dataFolder(), NOISE_MINUTES).entries()) {
	if (i % shards !== shard) continue;
	const { sound, ...row } = trial;
	kept.hear(row, [sound(), new Float32Array(SAMPLE_RATE)]);
}
kept.write(folder, shard);
