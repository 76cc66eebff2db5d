/** Puts the trained head into the app: its numbers, the list with every file's hash, and the decoder's weights. Called by train. */
import { createHash } from 'node:crypto';
import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { EARS_LIST, type EarsList } from '$lib/voice/model';
import { readPosteriors } from './bench/cache';
import { fitWeighing } from './bench/weigh';
import { cacheFolder } from './paths';
import { FOLDS } from './recordings';
import { VOCABULARY } from './vocabulary';

const folder = 'static/voice';
copyFileSync(join(cacheFolder(), 'heads', 'all.f16'), join(folder, 'head.f16'));
const mark = (file: string) => ({ file, sha256: createHash('sha256').update(readFileSync(join(folder, file))).digest('hex') });
const { weights, threshold } = fitWeighing(Array.from({ length: FOLDS }, (_, fold) => fold).flatMap((fold) => readPosteriors(join(cacheFolder(), 'posteriors', `${fold}.jsonl`))));
const list: EarsList = {
	version: 1, words: VOCABULARY, embedding: mark('embedding.f16'), head: mark('head.f16'),
	weighing: { weights: weights.map((w) => Number(w.toFixed(5))), threshold }
};
writeFileSync(join(folder, EARS_LIST), JSON.stringify(list, null, '\t') + '\n');
