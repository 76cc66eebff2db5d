/** Has the synthesisers speak into WAV files. */
import { execFile, execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { dirname } from 'node:path';
import { promisify } from 'node:util';
import type { Voice } from './voices';

export interface Utterance {
	readonly voice: Voice;
	readonly text: string;
	/** Words a minute relative to the voice's usual 1. */
	readonly rate: number;
	/** Pitch relative to the voice's usual 1. */
	readonly pitch: number;
	readonly path: string;
}

const run = promisify(execFile);
const AT_ONCE = availableParallelism() + 1;

async function one(u: Utterance): Promise<void> {
	if (u.voice.engine === 'espeak') {
		const pitch = Math.round(Math.min(99, Math.max(0, 50 * u.pitch)));
		await run('espeak-ng', ['-v', u.voice.name, '-s', String(Math.round(165 * u.rate)), '-p', String(pitch), '-w', u.path, u.text]);
	} else {
		const f0 = Math.round((u.voice.name === 'slt' ? 180 : 105) * u.pitch);
		const setting = [`duration_stretch=${(1 / u.rate).toFixed(2)}`, `int_f0_target_mean=${f0}`];
		await run('flite', ['-voice', u.voice.name, '--setf', setting[0]!, '--setf', setting[1]!, '-t', u.text, '-o', u.path]);
	}
}

/** Festival starts slowly: one start for all utterances of a voice. */
function festival(name: string, utterances: readonly Utterance[]): void {
	const lines = utterances.map(
		(u) =>
			`(Parameter.set 'Duration_Stretch ${(1 / u.rate).toFixed(2)})\n` +
			`(utt.save.wave (utt.synth (Utterance Text ${JSON.stringify(u.text)})) ${JSON.stringify(u.path)} 'riff)`
	);
	// beside the first utterance, whose name no other call writes to
	const script = `${utterances[0]!.path}.${name}.scm`;
	writeFileSync(script, `(voice_${name})\n${lines.join('\n')}\n`);
	execFileSync('festival', ['-b', script], { stdio: ['ignore', 'ignore', 'ignore'] });
}

/** Speaks what is not there yet. Throws where a synthesiser is missing. */
export async function speak(utterances: readonly Utterance[]): Promise<void> {
	const missing = utterances.filter((u) => !existsSync(u.path));
	for (const folder of new Set(missing.map((u) => dirname(u.path)))) mkdirSync(folder, { recursive: true });
	const queue = missing.filter((u) => u.voice.engine !== 'festival');
	let next = 0;
	const worker = async () => {
		while (next < queue.length) await one(queue[next++]!);
	};
	await Promise.all(Array.from({ length: AT_ONCE }, worker));
	for (const name of new Set(missing.filter((u) => u.voice.engine === 'festival').map((u) => u.voice.name))) {
		festival(name, missing.filter((u) => u.voice.engine === 'festival' && u.voice.name === name));
	}
}
