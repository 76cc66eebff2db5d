/**
 * Renders scenes and writes their features, one shard each call. Usage: extract SHARD SHARDS (a worker of train).
 * Shard file: for each scene its number of steps, the vectors as 16-bit floats; the index is a line of JSON for each scene.
 */
import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { EMBEDDING_SIZE } from '$lib/voice/features/embedding';
import { SpeechFeatures } from '$lib/voice/features/speech-features';
import { STEP_SAMPLES } from '$lib/voice/listener';
import { fromHalf, toHalf } from '$lib/voice/half';
import { cacheFolder, dataFolder } from './paths';
import { render, scenes, type Scene } from './scenes';
import { keptPlan, SEED } from './synthesis/kept-plan';

const [shard, shards] = process.argv.slice(2).map(Number);
if (shard === undefined || shards === undefined) throw new Error('expected SHARD SHARDS');
const weights = fromHalf(new Uint16Array(new Uint8Array(readFileSync('static/voice/embedding.f16')).buffer));
const features = new SpeechFeatures(weights);
const folder = join(cacheFolder(), 'features');
mkdirSync(folder, { recursive: true });

/** Where the sound comes from, for telling figures apart. */
const setOf = (scene: Scene) => (scene.fold < 0 ? 'synthetic' : scene.pieces.some((piece) => piece.path.includes('fsdd')) ? 'fsdd' : 'other');

/** In steps. A synthesised string is one piece: its words but the last may end anywhere before its end. */
function wordEnds(scene: Scene, ends: readonly number[]): number[] {
	const last = ends.at(-1) ?? 0;
	return scene.words.map((_, i) => Math.floor((ends.length === scene.words.length ? ends[i]! : last) / STEP_SAMPLES));
}

const index: string[] = [];
const vectors: Uint16Array[] = [];
for (const scene of scenes(dataFolder(), keptPlan(), SEED)) {
	if (scene.id % shards !== shard) continue;
	const numbers: number[] = [];
	features.reset();
	const { sound, ends } = render(scene, SEED);
	features.push(sound, (vector) => numbers.push(...vector));
	index.push(JSON.stringify({ id: scene.id, kind: scene.kind, words: scene.words, set: setOf(scene), fold: scene.fold, ends: wordEnds(scene, ends), steps: numbers.length / EMBEDDING_SIZE }));
	vectors.push(toHalf(Float32Array.from(numbers)));
}
const all = new Uint16Array(vectors.reduce((sum, v) => sum + v.length, 0));
let at = 0;
for (const v of vectors) {
	all.set(v, at);
	at += v.length;
}
// written beside and renamed, so that a shard that is there is whole
writeFileSync(join(folder, `${shard}.part`), Buffer.from(all.buffer));
writeFileSync(join(folder, `${shard}.jsonl`), index.join('\n') + '\n');
renameSync(join(folder, `${shard}.part`), join(folder, `${shard}.f16`));
console.log(`shard ${shard} of ${shards}: ${index.length} scenes, ${all.length / EMBEDDING_SIZE} steps`);
