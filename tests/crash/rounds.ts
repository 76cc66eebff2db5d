import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { sampleRun } from '../contract/sample-journal';
import { launch, type KillableBrowser } from './browser';
import { servePage, type PageServer } from './page-server';
import { tearLog } from './tear-log';

/** What the rounds showed. A loss is an acknowledged event that the reopened run does not hold. */
export interface CrashFigures {
	rounds: number;
	acknowledged: number;
	lost: number;
	/** Starts at which a copy was poorer, read past the store; and how many of those the store told. */
	poorer: number;
	told: number;
	/** Starts at which a mend was told though both copies were alike: it was made at a start that a kill ended before the next event was written. */
	toldAgain: number;
	/** Logs torn, and starts after them at which the store told a lost database. */
	torn: number;
	tornLossesTold: number;
	/** Starts at which the database was gone. */
	databaseLost: number;
	/** Mends told, by copy and kind. */
	mends: Record<string, number>;
	faults: string[];
	seed: number;
	/** RFC 3339. */
	ended: string;
}

const ROUNDS_A_RUN = 20;
/** A writer gets between these many milliseconds before it is killed. */
const [SHORT_MS, LONG_MS] = [5, 900];
/** Every fifth kill falls into the opening instead, within so many milliseconds of its beginning. */
const OPENING_EVERY = 5;
const OPENING_MS = 250;

interface Acknowledged {
	readonly run: string;
	readonly seq: number;
	readonly hash: string;
}

/** One profile, one server, what was acknowledged so far. */
class Bench {
	readonly #profile = mkdtempSync(join(tmpdir(), 'handrail-crash-'));
	readonly #acknowledged = new Map<string, Acknowledged[]>();
	readonly #seen = new Set<string>();
	readonly figures: CrashFigures;

	constructor(readonly server: PageServer, seed: number) {
		this.figures = { rounds: 0, acknowledged: 0, lost: 0, poorer: 0, told: 0, toldAgain: 0, torn: 0, tornLossesTold: 0, databaseLost: 0, mends: {}, faults: [], seed, ended: '' };
	}

	async start(): Promise<KillableBrowser> {
		const browser = await launch(this.#profile);
		await browser.page.exposeFunction('acknowledged', (run: string, seq: number, hash: string) => {
			const list = this.#acknowledged.get(run) ?? [];
			if (!list.length) this.#acknowledged.set(run, list);
			list.push({ run, seq, hash });
			this.figures.acknowledged++;
		});
		await browser.page.goto(this.server.url);
		await browser.page.waitForFunction(() => 'crash' in window);
		return browser;
	}

	/** Opens the run as after a crash and compares it with what was acknowledged. Resolves with the mends told. */
	async reopen(browser: KillableBrowser, run: string, rotate: boolean, peek: boolean): Promise<readonly string[]> {
		const seen = peek ? await browser.page.evaluate((id) => window.crash.peek(id), run) : null;
		const opened = await browser.page.evaluate(([id, turn]) => window.crash.open(id as string, turn as boolean), [run, rotate]);
		const { figures } = this;
		if (opened.fault) figures.faults.push(JSON.stringify(opened.fault));
		for (const { seq, hash } of this.#acknowledged.get(run) ?? []) if (opened.hashes[seq] !== hash) figures.lost++;
		if (opened.copies.length < 2) figures.faults.push(`only ${opened.copies.join()} was offered`);
		const mends = (opened.mended as { copy: string; what: string }[]).map(({ copy, what }) => `${copy} ${what}`);
		for (const name of mends) figures.mends[name] = (figures.mends[name] ?? 0) + 1;
		if (!seen) return mends;
		const poorer = seen.database !== seen.file || seen.tail > 0;
		if (poorer) figures.poorer++;
		if (poorer && opened.mended.length) figures.told++;
		if (!poorer && opened.mended.length) figures.toldAgain++;
		if (seen.database <= 0 && this.#seen.has(run)) figures.databaseLost++;
		this.#seen.add(run);
		return mends;
	}

	/** Writes until `afterMs` have gone, then kills. */
	async writeAndKill(browser: KillableBrowser, run: string, afterMs: number): Promise<void> {
		const writing = browser.page.evaluate((id) => window.crash.write(id, 1e9), run).catch((thrown: Error) => this.#mustBeTheKill(thrown));
		await new Promise((resolve) => setTimeout(resolve, afterMs));
		await browser.kill();
		await writing;
		this.figures.rounds++;
	}

	/** Kills while the store rotates, reads and mends. */
	async openAndKill(browser: KillableBrowser, run: string, afterMs: number): Promise<void> {
		const opening = browser.page.evaluate((id) => window.crash.open(id, true), run).catch((thrown: Error) => this.#mustBeTheKill(thrown));
		await new Promise((resolve) => setTimeout(resolve, afterMs));
		await browser.kill();
		await opening;
		this.figures.rounds++;
	}

	/** The page ends with the browser: that is what a round is about; any other end is a fault. */
	#mustBeTheKill(thrown: Error): void {
		if (!/closed|crashed|Target/i.test(thrown.message)) this.figures.faults.push(thrown.message);
	}

	tear(): void {
		tearLog(this.#profile, this.server.port);
		this.figures.torn++;
	}

	async end(): Promise<void> {
		this.figures.ended = new Date().toISOString();
		const browser = await this.start();
		for (const run of this.#acknowledged.keys()) await this.reopen(browser, run, true, false);
		await browser.context.close();
		await this.server.close();
		rmSync(this.#profile, { recursive: true, force: true });
	}
}

/** Kills the browser `rounds` times at random moments on one profile; every twentieth round begins a new run. */
export async function killRounds(rounds: number, seed: number, progress: (figures: CrashFigures) => void = () => {}): Promise<CrashFigures> {
	const bench = new Bench(await servePage(), seed);
	const random = xoroshiro128plus(seed);
	for (let round = 0; round < rounds; round++) {
		const run = sampleRun(1 + Math.floor(round / ROUNDS_A_RUN));
		const browser = await bench.start();
		if (round % OPENING_EVERY === OPENING_EVERY - 1) {
			await bench.openAndKill(browser, run, uniformInt(random, 0, OPENING_MS));
			continue;
		}
		// every other start is looked at past the store first; the others see the store's own order of reading and rotating
		await bench.reopen(browser, run, true, round % 2 === 0);
		await bench.writeAndKill(browser, run, uniformInt(random, SHORT_MS, LONG_MS));
		progress(bench.figures);
	}
	await bench.end();
	return bench.figures;
}

/**
 * Tears the database's log `times` times. Three starts each: write and be killed, then the log is torn; read well, write
 * behind the tear and be killed; open. Without the rotation the third start finds the database gone; with it, it must not.
 */
export async function tornRounds(times: number, seed: number, rotate: boolean, progress: (figures: CrashFigures) => void = () => {}): Promise<CrashFigures> {
	const bench = new Bench(await servePage(), seed);
	const random = xoroshiro128plus(seed);
	for (let round = 0; round < times; round++) {
		const run = sampleRun(1 + round);
		for (const tear of [true, false]) {
			const browser = await bench.start();
			await bench.reopen(browser, run, rotate, round % 2 === 0);
			await bench.writeAndKill(browser, run, uniformInt(random, 300, LONG_MS));
			if (tear) bench.tear();
		}
		const browser = await bench.start();
		const mends = await bench.reopen(browser, run, rotate, round % 2 === 0);
		if (mends.includes('database lost')) bench.figures.tornLossesTold++;
		await browser.context.close();
		progress(bench.figures);
	}
	await bench.end();
	return bench.figures;
}
