/** Puts the trained network and head into the app: their numbers, the list with every file's hash, and the decoder's weights. Called by train. */
import { createHash } from 'node:crypto';
import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { EARS_LIST, type EarsList } from '$lib/voice/model';
import { readPosteriors } from './bench/cache';
import { fitWeighing } from './bench/weigh';
import { cacheFolder } from './paths';
import { VOCABULARY } from './vocabulary';

const folder = 'static/voice';
copyFileSync(join(cacheFolder(), 'heads', 'all.embedding.f16'), join(folder, 'embedding.f16'));
copyFileSync(join(cacheFolder(), 'heads', 'all.f16'), join(folder, 'head.f16'));
const mark = (file: string) => ({ file, sha256: createHash('sha256').update(readFileSync(join(folder, file))).digest('hex') });
const { weights, threshold } = fitWeighing(['bench', 'bench-talk'].flatMap((set) => readPosteriors(join(cacheFolder(), set))));
const list: EarsList = {
	version: 1, words: VOCABULARY, embedding: mark('embedding.f16'), head: mark('head.f16'),
	weighing: { weights: weights.map((w) => Number(w.toFixed(5))), threshold }
};
writeFileSync(join(folder, EARS_LIST), JSON.stringify(list, null, '\t') + '\n');
