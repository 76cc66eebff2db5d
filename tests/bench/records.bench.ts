import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { build } from 'esbuild';
import { seededChance } from '$lib/adapters/chance/seeded-chance';
import { SimulatedClock } from '$lib/adapters/clock/simulated-clock';
import { deviceSigner } from '$lib/adapters/signer/device-signer';
import { verifyEd25519 } from '$lib/adapters/signer/verify-ed25519';
import { demoHistory, offsetMinOf } from '$lib/demo/demo-history';
import type { Scenario } from '$lib/procedure/scenario';
import { lineOf } from '$lib/record/chain';
import { closingOf } from '$lib/record/close';
import { toEln } from '$lib/record/eln';
import { noFiles } from '$lib/record/exporting';
import { journalText } from '$lib/record/journal-text';
import { readEln } from '$lib/record/read-eln';
import { readJournal } from '$lib/record/read-journal';
import type { JournalEvent } from '$lib/run/events';
import { begun, sampleRun, sealNext } from '../contract/sample-journal';
import { benchEdition } from '../simulation/bench-edition';
import { shipped } from '../simulation/shipped';
import { Walk } from '../simulation/walk';
import type { Figure } from './figure';

const MIB = 1024 * 1024;
const linesOf = (events: readonly JournalEvent[]) => events.map((event) => `${lineOf(event)}\n`).join('');
const sorted = (list: readonly number[]) => [...list].sort((a, b) => a - b);
const rounded = (n: number, digits = 1) => Number(n.toFixed(digits));

/** Bytes that do not compress, as photographs do not: a fast xorshift, the same each time. */
function noise(bytes: number, seed: number): Uint8Array {
	const words = new Uint32Array(bytes / 4);
	let x = seed | 1;
	for (let i = 0; i < words.length; i++) {
		x ^= x << 13;
		x ^= x >>> 17;
		x ^= x << 5;
		words[i] = x;
	}
	return new Uint8Array(words.buffer);
}

/** A run of 10,000 events with 50 photographs of 2 MB; invented. */
function longRun(folder: string): string {
	const photos = join(folder, 'photos');
	mkdirSync(photos);
	const walk = Walk.begin(benchEdition());
	for (let i = 0; i < 3; i++) walk.next();
	walk.answer('first');
	for (let n = 0; walk.events.length < 10_000; n++) {
		walk.next();
		walk.give({ id: 'back' });
		walk.give({ id: 'note', text: 'drifts a little to the left' });
		walk.give({ id: 'pause' });
		walk.give({ id: 'resume' });
		if (n >= 50) continue;
		const bytes = noise(2 * MIB, n + 1);
		writeFileSync(join(photos, `${n}.jpg`), bytes);
		walk.give({ id: 'attachment', sha256: createHash('sha256').update(bytes).digest('hex'), type: 'image/jpeg', bytes: bytes.length, name: `${n}.jpg` });
	}
	const path = join(folder, 'long.journal.jsonl');
	writeFileSync(path, linesOf(walk.events.slice(0, 10_000)));
	return path;
}

/** A thousand journals of whole visits: the invented history, again and again. */
function thousandRuns(folder: string): string[] {
	const scenario = JSON.parse(readFileSync('procedures/demo/scenario.json', 'utf8')) as Scenario;
	const editions = new Map(['lift-out-visit', 'exchange-tip', 'bench-loading'].map((id) => [id, shipped(id)]));
	const world = { clockAt: (start: string, zone: string, boot: string) => new SimulatedClock({ wallMs: Date.parse(start), offsetMin: offsetMinOf(start), zone, boot }), ids: seededChance };
	const texts = [...demoHistory(scenario, editions, world)].map(({ events }) => linesOf(events));
	return Array.from({ length: 1000 }, (_, i) => {
		const path = join(folder, `${i}.journal.jsonl`);
		writeFileSync(path, texts[i % texts.length]!);
		return path;
	});
}

const times = <T>(n: number, make: () => T): T[] => Array.from({ length: n }, make);

interface Measured {
	readonly s: number;
	/** Of all threads: what a busy machine adds to the wall clock is not in it. */
	readonly cpuS: number;
	readonly peakMiB: number;
}
function measure(cli: string, args: readonly string[]): Measured {
	const { status, stderr } = spawnSync(process.execPath, ['tests/bench/child-peak.mjs', cli, ...args], { encoding: 'utf8' });
	if (status !== 0) throw new Error(`handrail ${args[0]} ended with ${status}: ${stderr.slice(0, 500)}`);
	const { ms, cpuMs, peakKiB } = JSON.parse(stderr.trimEnd().split('\n').at(-1)!) as { ms: number; cpuMs: number; peakKiB: number };
	return { s: ms / 1000, cpuS: cpuMs / 1000, peakMiB: peakKiB / 1024 };
}
function figure(name: string, values: readonly number[], unit: string, goal: string, source: string): Figure {
	const all = sorted(values);
	// of so few cases only the range is known: it holds the median with 94 % for n = 5, 75 % for n = 3
	return { name, value: rounded(all[Math.floor(all.length / 2)]!, 2), unit, goal, n: all.length, interval: [rounded(all[0]!, 2), rounded(all.at(-1)!, 2)], source };
}

export async function figures(): Promise<Figure[]> {
	const folder = mkdtempSync(join(tmpdir(), 'records-'));
	const cli = resolve('build/bench/handrail.mjs');
	await build({ entryPoints: ['src/cli/handrail.ts'], outfile: cli, bundle: true, platform: 'node', format: 'esm', target: 'node20', packages: 'external', alias: { $lib: './src/lib' }, logLevel: 'error' });
	try {
		const long = longRun(folder);
		const out = join(folder, 'long.eln');
		const back = join(folder, 'back.journal.jsonl');
		const exported = times(5, () => measure(cli, ['export', long, '--as', 'eln', '--files', join(folder, 'photos'), '-o', out]));
		const imported = times(5, () => measure(cli, ['import', out, '-o', back]));
		if (readFileSync(back, 'utf8') !== readFileSync(long, 'utf8')) throw new Error('the journal did not come back byte for byte');
		const many = thousandRuns(folder);
		const parquet = join(folder, 'runs.parquet');
		const tables = times(3, () => measure(cli, ['export', ...many, '--as', 'parquet', '-o', parquet]));
		const whole = 'whole process from start to end, reading and verifying included; peak by getrusage';
		return [
			figure(`.eln of 10,000 events and 50 photographs of 2 MB (${rounded(statSync(out).size / MIB)} MiB)`, exported.map(({ s }) => s), 's', '≤ 5', whole),
			figure('its processor time', exported.map(({ cpuS }) => cpuS), 's', '', whole),
			figure('its peak memory', exported.map(({ peakMiB }) => peakMiB), 'MiB', '≤ 300', whole),
			figure('the same back again', imported.map(({ s }) => s), 's', '', whole),
			figure('its peak memory back', imported.map(({ peakMiB }) => peakMiB), 'MiB', '', whole),
			figure(`1,000 runs to Parquet (${rounded(statSync(parquet).size / MIB)} MiB)`, tables.map(({ s }) => s), 's', '≤ 10', whole),
			figure('its processor time in Parquet', tables.map(({ cpuS }) => cpuS), 's', '', whole),
			figure('its peak memory in Parquet', tables.map(({ peakMiB }) => peakMiB), 'MiB', '', whole),
			...(await flips())
		];
	} finally {
		rmSync(folder, { recursive: true });
	}
}

/** Every bit of a small signed journal, and of its .eln, turned over one at a time. */
async function flips(): Promise<Figure[]> {
	const run = sampleRun(7);
	const signer = (await deviceSigner({ get: async () => undefined, put: async () => {} }))!;
	const events: JournalEvent[] = [sealNext(run, [], begun)];
	events.push(sealNext(run, events, { kind: 'note', data: { text: 'small' } }));
	events.push(sealNext(run, events, { kind: 'closed', data: await closingOf(events, signer) }));
	const journal = new TextEncoder().encode(linesOf(events));
	const found = { journal: 0, refused: 0, harmless: 0, missed: 0 };
	eachFlip(journal, (flipped) => void (found.journal += readJournal(journalText(flipped)).fault ? 1 : 0));

	const chunks: Uint8Array[] = [];
	for await (const chunk of toEln(readJournal(linesOf(events)), { files: noFiles, verify: verifyEd25519, paper: 'A4' })) chunks.push(chunk);
	const eln = Buffer.concat(chunks);
	const wholeJournal = Buffer.from(journal);
	const step = process.env.HANDRAIL_LONG === '1' ? 1 : 97;
	let tried = 0;
	for (let bit = 0; bit < eln.length * 8; bit += step) {
		const flipped = Buffer.from(eln);
		flipped[bit >> 3]! ^= 1 << (bit & 7);
		tried++;
		const read = await readEln(new Blob([flipped])).catch((fault: unknown) => {
			if (fault instanceof RangeError) return null;
			throw fault;
		});
		if (!read) found.refused++;
		else if (Buffer.from(read.bytes).equals(wholeJournal)) found.harmless++;
		else found.missed++;
	}
	const source = 'counted; what counts as found: a fault or refusal is told, or the journal is the same byte for byte';
	return [
		{ name: 'one-bit flips of a small signed journal that are found', value: `${found.journal} of ${journal.length * 8}`, goal: 'all', n: journal.length * 8, source },
		{ name: `one-bit flips of its .eln: refused, harmless, missed${step === 1 ? '' : ` (every ${step}th bit)`}`, value: `${found.refused}, ${found.harmless}, ${found.missed}`, goal: 'none missed', n: tried, source }
	];
}

function eachFlip(bytes: Uint8Array, then: (flipped: Uint8Array) => void): void {
	for (let at = 0; at < bytes.length; at++)
		for (let bit = 0; bit < 8; bit++) {
			const flipped = bytes.slice();
			flipped[at]! ^= 1 << bit;
			then(flipped);
		}
}
