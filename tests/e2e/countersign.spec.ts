import { execFileSync } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import { expect, type Page, test } from '@playwright/test';
import { begin, failOnErrors, PRESS_MS } from './visit';

const folder = mkdtempSync(join(tmpdir(), 'countersign-'));

async function saved(page: Page, press: () => Promise<void>): Promise<string> {
	const [download] = await Promise.all([page.waitForEvent('download'), press()]);
	const path = join(folder, download.suggestedFilename());
	await download.saveAs(path);
	return path;
}
/** A run that was begun and ended at once, on a fresh device; its timeline is open. */
async function endedRun(page: Page): Promise<void> {
	failOnErrors(page);
	await begin(page, 'Loading at the bench, an exercise');
	const run = page.url().split('/').pop();
	await page.keyboard.press('v');
	for (let presses = 0; presses < 40 && !(await page.getByText(/visit is complete|visit was ended/).isVisible()); presses++) {
		await page.clock.fastForward(PRESS_MS);
		await page.keyboard.press('Enter');
		await page.waitForTimeout(60);
	}
	await page.goto(`/timeline/${run}`);
	await expect(page.getByText(/^Closed and signed\. Key /)).toBeVisible();
}
async function sign(page: Page, name: string, button: string): Promise<void> {
	await page.getByLabel('Who signs').fill(name);
	await page.getByRole('checkbox', { name: 'I have read the record above' }).check();
	await page.getByRole('button', { name: button }).click();
}
const accessible = async (page: Page) => expect((await new AxeBuilder({ page }).analyze()).violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);

test('X21 a second person countersigns: here, and on another device by a file; foreign files are refused', async ({ page, browser }) => {
	test.setTimeout(120_000);
	await endedRun(page);
	await page.getByText('Countersign the run', { exact: true }).click();
	await accessible(page);
	// who worked can't be the second person, and nothing is signed unread
	await page.getByLabel('Who signs').fill('ada invented ');
	await expect(page.getByText('expected a second person')).toBeVisible();
	await expect(page.getByRole('button', { name: 'Sign here' })).toBeDisabled();
	await sign(page, 'Kim (invented)', 'Sign here');
	await expect(page.getByText(/^Countersigned by Kim \(invented\) up to event \d+\. Key /)).toBeVisible();

	const journal = await saved(page, () => page.getByRole('button', { name: 'Save the run to take along' }).click());
	const other = await browser.newContext();
	const elsewhere = await other.newPage();
	failOnErrors(elsewhere);
	await elsewhere.goto('/runs');
	await elsewhere.getByLabel(/Bring in a run from a file/).setInputFiles(journal);
	await elsewhere.locator('.card a').first().click();
	await elsewhere.getByText('Countersign the run', { exact: true }).click();
	await expect(elsewhere.getByText(/This run was written by/)).toBeVisible();
	await accessible(elsewhere);
	const signature = await saved(elsewhere, () => sign(elsewhere, 'Sam (invented)', 'Sign, and save the signature file'));
	await other.close();

	const bring = page.getByLabel('Bring in a signature file');
	await bring.setInputFiles({ name: 'x.json', mimeType: 'application/json', buffer: Buffer.from('{"format":"something else"}') });
	await expect(page.getByText('Not countersigned: the file is no countersignature')).toBeVisible();
	await bring.setInputFiles(signature);
	await expect(page.getByText(/^Countersigned by Sam \(invented\) up to event/)).toBeVisible();
	await bring.setInputFiles(signature);
	await expect(page.getByText(/Not countersigned: it signs the run as it was at \d+ events/)).toBeVisible();
	await accessible(page);

	const whole = await saved(page, () => page.getByRole('button', { name: 'Save the run to take along' }).click());
	const told = execFileSync(process.execPath, ['build/cli/handrail.js', 'prove', whole], { encoding: 'utf8' });
	expect(told).toMatch(/proved: whole, closed and signed[^]*countersigned by Kim \(invented\), key \S+: fits[^]*countersigned by Sam \(invented\), key \S+: fits/);
});
