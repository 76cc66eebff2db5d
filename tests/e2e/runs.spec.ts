import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import { BlobReader, ZipReader } from '@zip.js/zip.js';
import { expect, type Page, test } from '@playwright/test';
import { failOnErrors } from './visit';

const folder = mkdtempSync(join(tmpdir(), 'history-'));

/** Brings in the invented history: many runs, all marked as invented. */
async function withHistory(page: Page): Promise<void> {
	failOnErrors(page);
	await page.goto('/runs');
	await page.getByRole('button', { name: 'Bring in the invented history' }).click();
	await expect(page.getByRole('button', { name: 'Take the invented runs away' })).toBeVisible({ timeout: 120_000 });
}
async function downloaded(page: Page, press: () => Promise<void>): Promise<{ name: string; bytes: Buffer }> {
	const [download] = await Promise.all([page.waitForEvent('download', { timeout: 120_000 }), press()]);
	const path = join(folder, download.suggestedFilename());
	await download.saveAs(path);
	return { name: download.suggestedFilename(), bytes: readFileSync(path) };
}
const accessible = async (page: Page) => expect((await new AxeBuilder({ page }).analyze()).violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);

test.describe.configure({ timeout: 240_000 });

test('the history is searched, compared and taken out in bulk', async ({ page }) => {
	await withHistory(page);
	const found = page.getByText(/^\d+ of \d+ runs$/);
	const all = Number(/of (\d+)/.exec(await found.innerText())![1]);
	expect(all).toBeGreaterThan(5);
	await accessible(page);

	// by person, whom every card names
	const person = /· (.+?)( · invented)?$/.exec(await page.locator('.card b').first().innerText())![1]!;
	await page.getByLabel('Search people, procedures').fill(person);
	await expect(page.getByText(/Reading the journals/)).toHaveCount(0, { timeout: 60_000 });
	for (const card of await page.locator('.card').all()) expect(await card.innerText()).toContain(person);
	// by a part that stands only inside the journals
	await page.getByLabel('Search people, procedures').fill('gas needle');
	await expect(page.locator('.card .where').first()).toContainText(/gas needle/i);
	await page.getByLabel('Search people, procedures').fill('no such words anywhere');
	await expect(page.getByText('No run fits.', { exact: false })).toBeVisible();
	await page.getByLabel('Search people, procedures').fill('');
	// by date
	await page.getByLabel('From', { exact: true }).fill('2999-01-01');
	await expect(found).toHaveText(`0 of ${all} runs`);
	await page.getByLabel('From', { exact: true }).fill('');

	const picks = page.getByRole('checkbox');
	for (const at of [0, 1, 2]) await picks.nth(at).check();
	await page.getByRole('combobox', { name: 'Take out as' }).selectOption('xes');
	const xes = await downloaded(page, () => page.getByRole('button', { name: 'Write 3 runs' }).click());
	expect([xes.name.endsWith('.xes'), xes.bytes.toString().split('<trace>').length - 1]).toEqual([true, 3]);
	await page.getByRole('combobox', { name: 'Take out as' }).selectOption('eln');
	const zip = await downloaded(page, () => page.getByRole('button', { name: 'Write 3 runs' }).click());
	const names = (await new ZipReader(new BlobReader(new Blob([new Uint8Array(zip.bytes)]))).getEntries()).map(({ filename }) => filename);
	expect(names).toHaveLength(3);
	for (const name of names) expect(name).toMatch(/\.eln$/);

	await page.getByRole('link', { name: 'Compare 3 runs' }).click();
	await expect(page.getByRole('heading', { name: 'Runs side by side' })).toBeVisible();
	expect(await page.locator('figure.rail').count()).toBe(3);
	await accessible(page);
});

test('a run leaves as .eln, is taken away, and comes back from it', async ({ page }) => {
	await withHistory(page);
	await page.locator('.card a').first().click();
	await expect(page.getByText(/Closed and signed|Closed, not signed|Not closed/)).toBeVisible();
	await accessible(page);
	await page.getByText('Other formats').click();
	const eln = await downloaded(page, () => page.getByRole('button', { name: 'Write the file' }).click());
	expect(eln.name).toMatch(/\.eln$/);
	const json = await downloaded(page, () => page.getByRole('button', { name: 'JSON, the whole journal' }).click());
	await page.goto('/runs');
	await page.getByRole('button', { name: 'Take the invented runs away' }).click();
	await expect(page.getByText('No runs on this device yet.')).toBeVisible({ timeout: 60_000 });
	await page.getByLabel(/Bring in a run from a file/).setInputFiles({ name: eln.name, mimeType: 'application/zip', buffer: eln.bytes });
	await expect(page.getByText(/Brought in: \d+ events/)).toBeVisible();
	await page.locator('.card a').first().click();
	const again = await downloaded(page, () => page.getByRole('button', { name: 'JSON, the whole journal' }).click());
	expect(again.bytes.equals(json.bytes)).toBe(true);
});

test('a hostile archive is refused with its reason, and nothing is brought in', async ({ page }) => {
	failOnErrors(page);
	await page.goto('/runs');
	await page.getByLabel(/Bring in a run from a file/).setInputFiles({ name: 'x.eln', mimeType: 'application/zip', buffer: Buffer.from('PK not an archive at all') });
	await expect(page.getByText('Not brought in: the file is no ZIP archive, or its end is missing')).toBeVisible();
	await expect(page.getByText('No runs on this device yet.')).toBeVisible();
});

test('a template is edited with a live preview and kept', async ({ page }) => {
	await withHistory(page);
	await page.getByRole('link', { name: 'Your own template' }).click();
	const editor = page.getByLabel(/^Template/);
	await editor.fill('Room 12: {{ procedure }} by {{ person }}');
	await expect(page.locator('pre')).toContainText(/^Room 12: .+ by /);
	await editor.fill('Room 12: {{ procedure');
	await expect(page.getByRole('alert')).toContainText('line:1');
	await expect(page.locator('pre')).toContainText(/^Room 12: .+ by /);
	await editor.fill('Room 13: {{ procedure }}');
	await expect(page.getByText('Template · kept')).toBeVisible();
	await accessible(page);
	await page.reload();
	await expect(page.getByLabel(/^Template/)).toHaveValue('Room 13: {{ procedure }}');
});
