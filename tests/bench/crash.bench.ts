import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { launch } from '../crash/browser';
import type { Latency } from '../crash/latency';
import { servePage } from '../crash/page-server';
import { type CrashFigures, killRounds, tornRounds } from '../crash/rounds';
import type { Figure } from './figure';

/**
 * The crash test takes most of an hour: it is run when HANDRAIL_LONG=1 and its figures are written to tests/crash/recorded.json;
 * otherwise the recorded ones are printed with their date. The latencies are measured each time.
 */
interface Recorded {
	readonly date: string;
	readonly machine: string;
	readonly browser: string;
	readonly kills: CrashFigures;
	/** Without the rotation, so that the loss happens and is mended. */
	readonly tornUnrotated: CrashFigures;
	readonly tornRotated: CrashFigures;
}

const path = 'tests/crash/recorded.json';
const ROUNDS = 400;
const TEARS = 20;
const TOUCHES = 300;
const EVENTS = 10_000;

export async function figures(): Promise<Figure[]> {
	if (process.env.HANDRAIL_LONG === '1') writeFileSync(path, JSON.stringify(await record(), null, '\t') + '\n');
	return [...crashFigures(JSON.parse(readFileSync(path, 'utf8')) as Recorded), ...latencyFigures(await measure())];
}

async function record(): Promise<Recorded> {
	const told = (name: string) => (found: CrashFigures) => process.stderr.write(`${name}: ${found.rounds} kills, ${found.acknowledged} acknowledged, ${found.lost} lost\n`);
	const kills = await killRounds(ROUNDS, 20260504, told('kills'));
	const tornUnrotated = await tornRounds(TEARS, 11, false, told('torn, not rotated'));
	const tornRotated = await tornRounds(TEARS, 12, true, told('torn, rotated'));
	return { date: new Date().toISOString(), machine: `${cpus().length} × ${cpus()[0]?.model ?? 'unknown'}`, browser: await browserVersion(), kills, tornUnrotated, tornRotated };
}

/** Upper end of the one-sided 95 % interval of a share of which none of n was seen: 1 − 0.05^(1/n). */
const noneOf = (n: number): readonly [number, number] => [0, Number((1 - 0.05 ** (1 / n)).toPrecision(2))];

function crashFigures({ date, machine, browser, kills, tornUnrotated, tornRotated }: Recorded): Figure[] {
	const source = `recorded ${date.slice(0, 10)} (kills ${kills.ended.slice(0, 10)}), ${machine}, ${browser}; acknowledgements noted outside the browser, copies read past the store`;
	const mends = (found: CrashFigures) => Object.entries(found.mends).map(([name, count]) => `${name} ${count}`).join(', ');
	return [
		{ name: `acknowledged events lost in ${kills.rounds} kills (of ${kills.acknowledged})`, value: kills.lost, goal: '0', n: kills.rounds, interval: noneOf(kills.rounds), source },
		{ name: 'poorer copies told, kills', value: `${kills.told} of ${kills.poorer}`, goal: 'all', n: kills.poorer, source: `${source}; every other start is looked at; mends: ${mends(kills)}` },
		{ name: `acknowledged events lost, log torn, not rotated (of ${tornUnrotated.acknowledged})`, value: tornUnrotated.lost, goal: '0', n: tornUnrotated.torn, interval: noneOf(tornUnrotated.torn), source },
		{ name: 'databases lost and mended from the file, all told', value: tornUnrotated.tornLossesTold, n: tornUnrotated.torn, source: `${source}; seen past the store: ${tornUnrotated.databaseLost} in every other round; mends: ${mends(tornUnrotated)}` },
		{ name: `acknowledged events lost, log torn, rotated (of ${tornRotated.acknowledged})`, value: tornRotated.lost, goal: '0', n: tornRotated.torn, interval: noneOf(tornRotated.torn), source },
		{ name: 'databases lost, log torn, rotated', value: tornRotated.tornLossesTold, goal: '0', n: tornRotated.torn, interval: noneOf(tornRotated.torn), source }
	];
}

async function onPage<T>(what: (page: Awaited<ReturnType<typeof launch>>['page']) => Promise<T>): Promise<T> {
	const profile = mkdtempSync(join(tmpdir(), 'handrail-bench-'));
	const [server, browser] = [await servePage(), await launch(profile)];
	try {
		await browser.page.goto(server.url);
		await browser.page.waitForFunction(() => 'crash' in window);
		return await what(browser.page);
	} finally {
		await browser.context.close();
		await server.close();
		rmSync(profile, { recursive: true, force: true });
	}
}

const browserVersion = () => onPage((page) => page.evaluate(() => /Chrome\/\d+/.exec(navigator.userAgent)?.[0] ?? navigator.userAgent));
const measure = () => onPage((page) => page.evaluate(([events, touches]) => window.crash.latency(events!, touches!), [EVENTS, TOUCHES]));

/** A quantile with its 95 % interval by order statistics (binomial, normal approximation). */
function quantile(list: readonly number[], p: number): { value: number; interval: [number, number] } {
	const all = [...list].sort((a, b) => a - b);
	const half = 1.96 * Math.sqrt(all.length * p * (1 - p));
	const at = (i: number) => Number(all[Math.min(all.length - 1, Math.max(0, Math.round(i)))]!.toFixed(1));
	const middle = (all.length - 1) * p;
	return { value: at(middle), interval: [at(middle - half), at(middle + half)] };
}

function latencyFigures(found: Latency): Figure[] {
	const source = 'own clock of the page (performance.now), writes alternating with a bare strict put of the same text';
	const figure = (name: string, list: readonly number[], p: number, goal?: string): Figure => ({ name, ...quantile(list, p), unit: 'ms', n: list.length, source, ...(goal ? { goal } : {}) });
	const ratio = quantile(found.paintedMs, 0.95).value / quantile(found.barePaintedMs, 0.95).value;
	return [
		figure(`touch to durable and painted, ${found.events} events, p95`, found.paintedMs, 0.95, '≤ 100'),
		figure('bare strict put and painted, p95', found.barePaintedMs, 0.95),
		{ name: 'ratio of the two p95', value: Number(ratio.toFixed(2)), goal: '≤ 2', n: found.paintedMs.length, source },
		figure('touch to durable, p95', found.durableMs, 0.95),
		figure('bare strict put, p95', found.barePutMs, 0.95),
		figure('one more event to durable, first 200 events, p50', found.firstAppendsMs, 0.5),
		figure(`one more event to durable, behind ${found.events} events, p50`, found.lastAppendsMs, 0.5, 'as the first'),
		figure(`reopening ${found.events + found.durableMs.length} events, store and chain, p50`, found.reopenMs, 0.5, '≤ 1000')
	];
}
