/** Runs the bundled voice tools side by side, at low priority: whoever trains wants to go on working. */
import { spawn } from 'node:child_process';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';

const one = (name: string, args: readonly string[]): Promise<void> =>
	new Promise((resolve, reject) => {
		const node = [process.execPath, '--max-old-space-size=8192', join(import.meta.dirname, `${name}.mjs`), ...args];
		const child = spawn('nice', node, { stdio: 'inherit' });
		child.once('error', reject);
		child.once('exit', (code) => (code === 0 ? resolve() : reject(new Error(`${name} ${args.join(' ')} ended with ${String(code)}`))));
	});

/** Runs `name` once for each list of arguments, `atOnce` at a time. Throws when one fails. */
export async function inParallel(name: string, calls: readonly (readonly string[])[], atOnce = availableParallelism()): Promise<void> {
	let next = 0;
	const lane = async () => {
		while (next < calls.length) await one(name, calls[next++]!);
	};
	await Promise.all(Array.from({ length: Math.min(Math.max(1, atOnce), calls.length) }, lane));
}

/** Arguments for so many shards of one job: "0 8 …", "1 8 …" and so on. */
export const shards = (count: number, ...more: string[]): string[][] => Array.from({ length: count }, (_, i) => [String(i), String(count), ...more]);
