import AxeBuilder from '@axe-core/playwright';
import { expect, type Page, test } from '@playwright/test';
import type { Edition, StepKind } from '../../src/lib/procedure/edition';
import { begin, editionOf, failOnErrors, PRESS_MS } from './visit';

/** Every screen is held against WCAG (axe) in both themes; with HANDRAIL_SHOTS=FOLDER each is photographed at each size, to be looked at. */
const SIZES = [['tablet', 1280, 800], ['old tablet', 1024, 768], ['desk', 1920, 1080], ['phone', 390, 844]] as const;
const shots = process.env['HANDRAIL_SHOTS'];

async function look(page: Page, name: string): Promise<void> {
	if (shots) console.log(new Date().toISOString().slice(14, 19), name);
	for (const theme of ['dim', 'daylight']) {
		await page.evaluate((is) => (document.documentElement.dataset['theme'] = is), theme);
		for (const [size, width, height] of shots ? SIZES : SIZES.slice(0, 1)) {
			await page.setViewportSize({ width, height });
			if (shots) await page.screenshot({ path: `${shots}/${name} ${size} ${theme}.png` });
			if (size === 'tablet' || size === 'phone') {
				const { violations } = await new AxeBuilder({ page }).analyze();
				expect.soft(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 160)).join(' and ')}`), `${name}, ${size}, ${theme}`).toEqual([]);
				const sideways = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
				expect.soft(sideways, `${name} on a ${size} scrolls sideways`).toBeLessThanOrEqual(0);
			}
		}
	}
	await page.setViewportSize({ width: 1280, height: 800 });
}

/** Walks on by keys; what stands on the way is looked at the first time its kind comes. */
async function walkAndLook(page: Page, edition: Edition, kinds: Set<StepKind | 'confirm' | 'echo'>): Promise<void> {
	const readings = new Map(Object.values(edition.steps).flatMap((step) => step.readings.map((reading) => [reading.name.en, reading] as const)));
	const kindOf = new Map(Object.values(edition.steps).map((step) => [step.words.en?.full, step.kind]));
	for (let presses = 0; kinds.size > 0; presses++) {
		if (presses > 400) throw new Error(`never met: ${[...kinds].join(', ')}`);
		await page.clock.fastForward(PRESS_MS);
		await page.waitForTimeout(20);
		const heading = await page.locator('main h1').last().innerText();
		const asks = await page.locator('.question').isVisible();
		const number = await page.locator('[data-scan="stay"]').isVisible();
		const kind = asks ? 'echo' : /confirm/i.test(await page.locator('.dock').last().getByRole('button').first().innerText()) ? 'confirm' : kindOf.get(heading);
		if (kind && kinds.delete(kind)) await look(page, `walk ${kind}`);
		if (number && !asks) {
			const name = (await page.locator('.dock').last().getByRole('button').first().innerText()).trim();
			const { plausible: [low, high] } = readings.get(name)!;
			for (const key of low <= 0 && high >= 0 ? '0' : String((low + high) / 2)) await page.keyboard.press(key);
		} else if (!asks && (await page.locator('.dock').last().getByRole('button', { name: 'Answer above' }).isVisible())) {
			await page.keyboard.press('1');
			continue;
		}
		await page.keyboard.press('Enter');
	}
}

test('Start, from the first time on, is open to everybody', async ({ page }) => {
	test.setTimeout(600_000);
	failOnErrors(page);
	await page.goto('/');
	await expect(page.getByRole('button', { name: 'I have read this' })).toBeVisible();
	await look(page, 'start first');
	await page.getByRole('button', { name: 'I have read this' }).click();
	await page.getByLabel('Who works').fill('Ada Invented');
	await look(page, 'start');
	await page.getByRole('button', { name: /^Begin:/ }).click();
	await look(page, 'start parts');
	for (const path of ['/settings', '/voice', '/runs', '/paper/lift-out-visit']) {
		await page.goto(path);
		await expect(page.locator('h1').first()).toBeVisible();
		await look(page, path.split('/')[1]!);
	}
});

test('Walk and what opens from it is open to everybody', async ({ page }) => {
	test.setTimeout(900_000);
	failOnErrors(page);
	await begin(page, 'A whole lift-out visit');
	for (const [key, name] of [['x', 'trouble'], ['m', 'note'], ['f', 'picture'], ['l', 'late'], ['g', 'gloves'], ['b', 'booking'], ['o', 'parts'], ['i', 'details'], ['h', 'pen']] as const) {
		await page.keyboard.press(key);
		await expect(page.getByRole('dialog'), name).toBeVisible();
		await look(page, `sheet ${name}`);
		await page.getByRole('dialog').getByRole('button', { name: 'Back to the step' }).first().click();
	}
	await page.locator('.dock').last().getByRole('button', { name: 'More' }).click();
	await look(page, 'sheet more');
	await page.getByRole('dialog').getByRole('button', { name: 'Back to the step' }).first().click();
	await page.keyboard.down('PageDown');
	await page.clock.fastForward(650);
	await page.keyboard.up('PageDown');
	await look(page, 'walk ring');
	await page.keyboard.press('Escape');
	await page.keyboard.press('p');
	await look(page, 'walk paused');
	await page.clock.fastForward(PRESS_MS);
	await page.keyboard.press('Enter');
	await walkAndLook(page, await editionOf(page, 'lift-out-visit'), new Set(['do', 'check', 'choose', 'reading', 'adjust', 'wait', 'confirm', 'echo']));
	await page.clock.fastForward(PRESS_MS);
	await page.keyboard.press('s');
	await look(page, 'walk held');
	const run = page.url().split('/').pop();
	await page.goto(`/timeline/${run}`);
	await expect(page.locator('h1').first()).toBeVisible();
	await look(page, 'timeline');
	await page.goto('/');
	await expect(page.locator('h1').first()).toBeVisible();
	await look(page, 'start again');
});
