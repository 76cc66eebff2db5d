/**
 * Trains the head: synthetic speech, scenes and their features, five heads that each leave out a fifth of the speakers, and the
 * one to ship. What is there already is not made again. Usage: npm run voice:train
 */
import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { inParallel, shards } from './parallel';
import { cacheFolder } from './paths';

/** Whatever the number of cores, so that a stopped training goes on where it was. */
const SHARDS = 16;
const HEADS = ['0', '1', '2', '3', '4', 'all'];
const at = (...parts: string[]) => existsSync(join(cacheFolder(), ...parts));

await inParallel('synthesise', [[]]);
await inParallel('extract', shards(SHARDS).filter(([shard]) => !at('features', `${shard}.f16`)));
await inParallel('fit-fold', HEADS.filter((name) => !at('heads', `${name}.f16`)).map((name) => [name]), Math.ceil(availableParallelism() / 3));
await inParallel('bench-features', shards(SHARDS).filter(([shard]) => !at('bench', `${shard}.f16`)));
await inParallel('bench-talk', shards(SHARDS, '10').filter(([shard]) => !at('bench-talk', `${shard}.f16`)));
await inParallel('bench-posteriors', HEADS.filter((name) => name !== 'all' && !at('posteriors', `${name}.jsonl`)).map((name) => [name]));
await inParallel('ship', [[]]);
