import AxeBuilder from '@axe-core/playwright';
import { expect, type Page, test } from '@playwright/test';
import { failOnErrors } from './visit';

async function noViolations(page: Page, where: string): Promise<void> {
	const { violations } = await new AxeBuilder({ page }).analyze();
	expect(violations.map(({ id, nodes }) => `${where}: ${id} at ${nodes.map(({ target }) => target.join(' ')).join(', ')}`)).toEqual([]);
}

/** In both themes and on a phone held upright. */
async function lookedAt(page: Page, where: string): Promise<void> {
	await noViolations(page, `${where}, dim`);
	await page.evaluate(() => (document.documentElement.dataset.theme = 'daylight'));
	await noViolations(page, `${where}, daylight`);
	await page.evaluate(() => (document.documentElement.dataset.theme = 'dim'));
	await page.setViewportSize({ width: 390, height: 844 });
	await noViolations(page, `${where}, phone`);
	expect(await page.evaluate(() => document.documentElement.scrollWidth <= document.documentElement.clientWidth), `${where} on a phone needs no scrolling sideways`).toBe(true);
	await page.setViewportSize({ width: 1280, height: 800 });
}

test('F8 F10 an invented history is brought in, looked at on every page, and taken away again', async ({ page }) => {
	test.setTimeout(600_000);
	failOnErrors(page);
	await page.goto('/');
	await page.getByRole('button', { name: 'I have read this' }).click();

	await page.getByRole('link', { name: 'History', exact: true }).click();
	await expect(page.getByText('There are no runs to look at yet.')).toBeVisible();
	await lookedAt(page, 'the empty history');
	await page.getByRole('link', { name: 'Runs so far' }).click();
	await page.getByRole('button', { name: 'Bring in the invented history' }).click();
	await expect(page.getByRole('progressbar')).toBeVisible();
	await expect(page.getByRole('button', { name: 'Take the invented runs away' })).toBeVisible({ timeout: 300_000 });

	await page.goto('/history');
	await expect(page.getByRole('heading', { name: 'Runs on one scale' })).toBeVisible({ timeout: 120_000 });
	await expect(page.getByText('All of this is invented')).toBeVisible();
	await lookedAt(page, 'the history');
	// the keyboard chooses a stage; its steps follow
	await page.getByRole('radio', { name: 'Load at the bench' }).focus();
	await page.keyboard.press('ArrowRight');
	await expect(page.getByRole('radio', { name: 'Transfer into the chamber' })).toBeChecked();
	await expect(page.getByRole('list').getByText('Vent lock', { exact: true })).toBeVisible();
	await page.getByText('Table: Runs on one scale').click();
	const table = page.getByRole('region', { name: 'Table: Runs on one scale' });
	await expect(table.getByRole('row')).toHaveCount(46);
	await page.getByRole('radio', { name: 'Ludo Kesterby' }).check({ force: true });
	await expect(table.getByRole('row')).toHaveCount(6);

	await page.getByRole('link', { name: 'People', exact: true }).click();
	const ludo = page.getByRole('row', { name: /Ludo Kesterby/ });
	await expect(ludo.getByText(/^5 of \d+$/).first()).toBeVisible({ timeout: 60_000 });
	await lookedAt(page, 'people');
	// rates that lie closer together ask for more attempts
	const needed = async () => Number(/of (\d+)/.exec(await ludo.locator('.standing').first().innerText())?.[1]);
	const before = await needed();
	await page.getByText('Failure rates that are told apart').click();
	await page.getByLabel('Not accepted, per cent').fill('30');
	await page.getByLabel('Not accepted, per cent').press('Tab');
	await expect.poll(needed).toBeGreaterThan(before);
	await page.getByLabel('Not accepted, per cent').fill('5');
	await page.getByLabel('Not accepted, per cent').press('Tab');
	await expect(page.getByRole('alert')).toContainText('expected 0 < accepted < unaccepted < 1');
	await page.getByLabel('Not accepted, per cent').fill('40');
	await page.getByLabel('Not accepted, per cent').press('Tab');

	await page.getByRole('link', { name: 'Sunniva Praat' }).click();
	await expect(page.getByRole('heading', { name: 'Ready for this stage?' })).toBeVisible();
	await expect(page.getByRole('img').first()).toBeVisible({ timeout: 60_000 });
	await lookedAt(page, 'a person');
	await page.getByRole('radio', { name: 'average so far' }).check({ force: true });
	await expect(page.getByText('Averages hang together from run to run')).toBeVisible();
	// on paper every table is open
	await page.emulateMedia({ media: 'print' });
	await expect(page.getByRole('cell', { name: 'well done' }).first()).toBeVisible();
	await page.emulateMedia({ media: 'screen' });

	await page.goto('/runs');
	await page.getByRole('button', { name: 'Take the invented runs away' }).click();
	await expect(page.getByText('No runs on this device yet.')).toBeVisible({ timeout: 120_000 });
	await page.goto('/people');
	await expect(page.getByText('There are no runs to look at yet.')).toBeVisible();
});
