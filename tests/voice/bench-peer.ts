/** Puts the single words to another recogniser, one shard each call. Usage: bench-peer SHARD SHARDS (called by bench). */
import { mkdirSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { QUESTION, READING } from './bench/gates';
import { heardByPeer, type PeerRow } from './bench/peer';
import { trials } from './bench/trials';
import { COMMANDS_RECORDED } from './bench/weigh';
import { cacheFolder, dataFolder } from './paths';

const [shard, shards] = process.argv.slice(2).map(Number);
if (shard === undefined || shards === undefined) throw new Error('expected SHARD SHARDS');
const words = trials(dataFolder(), 0).filter(({ kind }) => kind === 'word').filter((_, i) => i % shards === shard);
const rows = ([['question', QUESTION], ['reading', READING]] as const).flatMap(([gate, open]): PeerRow[] => {
	// a word outside the vocabulary is put to both
	const asked = words.filter((trial) => trial.words.length === 0 || COMMANDS_RECORDED.includes(trial.word) === (gate === 'question'));
	const heard = heardByPeer(asked, open);
	return asked.map(({ source, condition, words: said, word, speaker }, i) => ({ gate, source, condition, words: said, word, speaker, heard: heard[i] ?? null }));
});
const folder = join(cacheFolder(), 'peer');
mkdirSync(folder, { recursive: true });
writeFileSync(join(folder, `${shard}.part`), rows.map((row) => JSON.stringify(row) + '\n').join(''));
renameSync(join(folder, `${shard}.part`), join(folder, `${shard}.jsonl`));
