import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, type Page, test } from '@playwright/test';
import { launch } from '../crash/browser';
import { begin, failOnErrors, PRESS_MS } from './visit';

const BENCH = 'Loading at the bench, an exercise';
const VISIT = 'A whole lift-out visit';

const step = (page: Page) => page.locator('main h1').first();

/** Presses the way on until the step changes, `times` times. Only plain steps stand at the beginning of both procedures. */
async function press(page: Page, times: number): Promise<void> {
	for (let i = 0; i < times; i++) {
		const before = await page.locator('main').innerText();
		await page.clock.fastForward(PRESS_MS);
		await page.keyboard.press('Enter');
		await expect(page.locator('main')).not.toHaveText(before, { useInnerText: true });
	}
}

test('J11 a run killed with the browser goes on where it stood, and the time between is asked about', async ({ baseURL }) => {
	const profile = mkdtempSync(join(tmpdir(), 'handrail-killed-'));
	try {
		const first = await launch(profile);
		const tab = await first.context.newPage();
		await begin(tab, VISIT, `${baseURL}/`);
		await press(tab, 1);
		const stood = await step(tab).innerText();
		await first.kill();

		const second = await launch(profile);
		const again = await second.context.newPage();
		failOnErrors(again);
		// ten minutes later
		await again.clock.install({ time: Date.now() + 600_000 });
		await again.goto(`${baseURL}/`);
		await again.getByRole('link', { name: /^Go on from/ }).click();
		await expect(step(again)).toHaveText(stood);
		await expect(again.getByText(/it was not measured. What happened\?/)).toBeVisible();
		await again.getByRole('button', { name: 'Nobody worked' }).click();
		await expect(again.getByText(/it was not measured. What happened\?/)).toBeHidden();
		await press(again, 2);
		await expect(step(again)).not.toHaveText(stood);
		await second.context.close();
	} finally {
		rmSync(profile, { recursive: true, force: true });
	}
});

test('with the server gone, a reload in the middle of a visit changes nothing, and every screen opens', async ({ page }) => {
	failOnErrors(page);
	const port = 4300 + test.info().workerIndex;
	const server = spawn(process.execPath, ['build/cli/handrail.js', 'serve', '--port', String(port)], { stdio: ['ignore', 'pipe', 'inherit'] });
	await once(server.stdout, 'data');
	await page.goto(`http://localhost:${port}/`);
	await page.evaluate(() => navigator.serviceWorker.ready);
	await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
	await begin(page, VISIT, `http://localhost:${port}/`);
	await press(page, 3);
	server.kill('SIGKILL');
	await once(server, 'exit');
	await expect(page.request.get(`http://localhost:${port}/`)).rejects.toThrow();

	const stood = await step(page).innerText();
	await page.reload();
	await expect(step(page)).toHaveText(stood);
	await press(page, 2);
	const run = page.url().split('/').pop();
	for (const [path, heading] of [['/', /left off|go on|Handrail/i], ['/settings', /Settings/], ['/runs', /Runs/], [`/timeline/${run}`, /visit/], ['/paper/lift-out-visit', /visit/]] as const) {
		await page.goto(`http://localhost:${port}${path}`);
		await expect(page.locator('h1').first(), path).toHaveText(heading);
	}
	await page.goto(`http://localhost:${port}/walk/${run}`);
	await press(page, 1);
});

test('J12 two tabs on one run: the second only looks, and may write once the first is gone', async ({ context }) => {
	const first = await context.newPage();
	failOnErrors(first);
	await begin(first, BENCH);
	await press(first, 2);
	const stood = await step(first).innerText();

	const second = await context.newPage();
	failOnErrors(second);
	await second.clock.install();
	await second.goto(first.url());
	await expect(second.getByText(/another tab/i)).toBeVisible();
	await expect(step(second)).toHaveText(stood);
	await second.keyboard.press('Enter');
	await expect(second.getByRole('alert')).toContainText(/another tab/i);
	await expect(step(second)).toHaveText(stood);

	await first.close();
	await second.reload();
	await expect(step(second)).toHaveText(stood);
	await expect(second.getByText(/another tab/i)).toBeHidden();
	await press(second, 1);
	await expect(step(second)).not.toHaveText(stood);
});

for (const [name, hours] of [['forward', 1], ['back', -1]] as const)
	test(`T5 a clock set ${name} an hour in the middle of a step changes no duration silently`, async ({ page }) => {
		failOnErrors(page);
		await begin(page, BENCH);
		await expect(step(page)).toBeVisible();
		await page.clock.fastForward(90_000);
		await page.clock.setSystemTime(Date.now() + 90_000 + hours * 3_600_000);
		await page.clock.runFor(30_000);
		// neither clock is believed: shown as not measured, and asked about once the step ends
		await expect(page.getByText(/not measured/).first()).toBeVisible();
		await press(page, 1);
		await expect(page.getByText(/not measured. What happened\?/)).toBeVisible();
		await page.getByRole('button', { name: 'I worked on' }).click();
		await expect(page.getByText(/What happened\?/)).toBeHidden();
	});
