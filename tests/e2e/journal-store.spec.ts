import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from '@playwright/test';
import { launch, type KillableBrowser } from '../crash/browser';
import { type PageServer, servePage } from '../crash/page-server';
import { killRounds, tornRounds } from '../crash/rounds';
import { sampleRun } from '../contract/sample-journal';

/** The device's store in a real browser: the contract suite, two tabs, and the short form of the crash test (long: npm run bench). */
test.describe('the journal store in a browser', () => {
	let server: PageServer;
	let browser: KillableBrowser;
	let profile: string;
	const faults: string[] = [];
	const newPage = async () => {
		const page = await browser.context.newPage();
		page.on('pageerror', ({ message }) => faults.push(message));
		page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
		await page.exposeFunction('acknowledged', () => {});
		await page.goto(server.url);
		await page.waitForFunction(() => 'crash' in window);
		return page;
	};
	test.beforeAll(async () => {
		profile = mkdtempSync(join(tmpdir(), 'handrail-store-'));
		[server, browser] = [await servePage(), await launch(profile)];
	});
	test.afterAll(async () => {
		await browser.context.close();
		await server.close();
		rmSync(profile, { recursive: true, force: true });
	});

	test('keeps the contract, in a database and a file', async () => {
		const page = await newPage();
		const { failed, passed, report } = await page.evaluate(() => window.crash.contract());
		expect(failed).toEqual([]);
		expect(passed).toBeGreaterThanOrEqual(15);
		expect(report.copies).toEqual(['database', 'file']);
		expect(faults).toEqual([]);
	});

	test('J12 two tabs: the second reads and may not write until the first is gone', async () => {
		const run = sampleRun(0x2ab);
		const [first, second] = [await newPage(), await newPage()];
		await first.evaluate((id) => window.crash.open(id, true), run);
		await first.evaluate((id) => window.crash.write(id, 12), run);
		const seen = await second.evaluate((id) => window.crash.open(id, true), run);
		expect(seen.hashes).toHaveLength(12);
		await expect(second.evaluate((id) => window.crash.write(id, 1), run)).rejects.toThrow('another tab may hold it');
		await first.close();
		await second.evaluate((id) => window.crash.open(id, true), run);
		await second.evaluate((id) => window.crash.write(id, 3), run);
		expect((await second.evaluate((id) => window.crash.peek(id), run))).toEqual({ database: 15, file: 15, tail: 0 });
		expect(faults).toEqual([]);
	});
});

test('J11 ten kills at random moments lose no acknowledged event, and every poorer copy is told', async () => {
	test.setTimeout(240_000);
	const figures = await killRounds(10, 20260505);
	expect(figures).toMatchObject({ rounds: 10, lost: 0, faults: [] });
	expect(figures.acknowledged).toBeGreaterThan(20);
	expect(figures.told).toBe(figures.poorer);
});

test('J17 a torn log loses the database where the log is not rotated: it is mended from the file, and told', async () => {
	test.setTimeout(240_000);
	const figures = await tornRounds(1, 20260506, false);
	expect(figures).toMatchObject({ lost: 0, faults: [], torn: 1, tornLossesTold: 1 });
	expect(figures.told).toBe(figures.poorer);
});

test('J17 a torn log loses nothing where it is rotated before the first write', async () => {
	test.setTimeout(240_000);
	const figures = await tornRounds(1, 20260507, true);
	expect(figures).toMatchObject({ lost: 0, faults: [], torn: 1, databaseLost: 0, tornLossesTold: 0 });
});
