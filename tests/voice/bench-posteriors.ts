/**
 * Puts every trial to the head that never saw its speaker and writes the steps in which some word was likely.
 * Usage: bench-posteriors FOLD (called by bench).
 */
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { EMBEDDING_SIZE } from '$lib/voice/features/embedding';
import { HeadNetwork } from '$lib/voice/head-network';
import { fromHalf } from '$lib/voice/half';
import { eachTrial, LIVELY, type Lively } from './bench/cache';
import { cacheFolder } from './paths';
import { VOCABULARY } from './vocabulary';

const [name] = process.argv.slice(2);
if (!name || !/^[0-4]$/.test(name)) throw new Error('expected a fold, 0 to 4');
const head = new HeadNetwork(VOCABULARY, fromHalf(new Uint16Array(new Uint8Array(readFileSync(join(cacheFolder(), 'heads', `${name}.f16`))).buffer)));
const folder = join(cacheFolder(), 'posteriors');
mkdirSync(folder, { recursive: true });
const lines: string[] = [];
for (const set of ['bench', 'bench-talk'].filter((one) => existsSync(join(cacheFolder(), one)))) {
	eachTrial(join(cacheFolder(), set), (row, vectors) => {
		if (row.fold !== Number(name)) return;
		const lively: Lively[] = [];
		head.reset();
		for (let step = 0; step < row.steps; step++) {
			const { logProbabilities } = head.step(vectors.subarray(step * EMBEDDING_SIZE, (step + 1) * EMBEDDING_SIZE));
			if (1 - Math.exp(logProbabilities[VOCABULARY.length]!) < LIVELY) continue;
			lively.push({ step, logP: Array.from(logProbabilities, (x) => Math.round(x * 1000) / 1000) });
		}
		lines.push(JSON.stringify({ ...row, lively }));
	});
}
writeFileSync(join(folder, `${name}.part`), lines.join('\n') + '\n');
renameSync(join(folder, `${name}.part`), join(folder, `${name}.jsonl`));
