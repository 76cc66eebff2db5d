/** Has the ears of each fold hear all trials that they have not heard yet. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { inParallel, shards } from '../parallel';
import { cacheFolder } from '../paths';

/** Whatever the number of cores, so that what was stopped goes on where it was. */
export const SHARDS = 16;
const TALK_HOURS = '10';

const missing = (folder: string, ...more: string[]) => shards(SHARDS, ...more).filter(([shard]) => !existsSync(join(cacheFolder(), folder, `${shard}.f16`)));

export async function hearWhatIsMissing(): Promise<void> {
	await inParallel('bench-words', missing('bench'));
	await inParallel('bench-talk', missing('bench-talk', TALK_HOURS));
}
