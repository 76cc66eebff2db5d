/**
 * Trains the ears: synthetic speech, the pieces that scenes are made of, five pairs of network and head that each leave out a fifth of the
 * speakers, and the one to ship. What is there already is not made again. Usage: npm run voice:train
 */
import { spawnSync } from 'node:child_process';
import { existsSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { hearWhatIsMissing } from './bench/hear-missing';
import { inParallel } from './parallel';
import { cacheFolder } from './paths';

const PAIRS = ['0', '1', '2', '3', '4', 'all'];
const at = (...parts: string[]) => join(cacheFolder(), ...parts);

/** PyTorch learns: a graphics card does in minutes what two cores do in days, with the same lines. HANDRAIL_PYTHON names another Python. */
function fit(names: readonly string[]): void {
	const python = process.env['HANDRAIL_PYTHON'] ?? 'python3';
	if (spawnSync(python, ['-c', 'import numpy, torch'], { stdio: 'ignore' }).status !== 0) {
		throw new Error(`${python} has no numpy and torch: install them, or name a Python that has them in HANDRAIL_PYTHON`);
	}
	for (const [script, ...args] of [['check.py'], ['fit.py', cacheFolder(), ...names]]) {
		const { status } = spawnSync(python, [`tests/voice/training/${script}`, ...args], { stdio: 'inherit' });
		if (status !== 0) throw new Error(`${script} ended with ${String(status)}`);
	}
}

await inParallel('synthesise', [[]]);
if (!existsSync(at('pieces', 'words.json'))) await inParallel('pieces', [[]]);
const missing = PAIRS.filter((name) => !existsSync(at('heads', `${name}.f16`)));
if (missing.length > 0) {
	// what others heard is of no use for these
	for (const folder of ['bench', 'bench-talk']) rmSync(at(folder), { recursive: true, force: true });
	fit(missing);
}
await hearWhatIsMissing();
await inParallel('ship', [[]]);
