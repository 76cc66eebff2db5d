import { readFileSync } from 'node:fs';
import { chromium, expect, test } from '@playwright/test';
import { systemBrowser } from '../crash/browser';
import { begin, failOnErrors } from './visit';

test('a picture taken in a step stands on the timeline under a name that says step and time, and can be saved', async ({ baseURL }) => {
	const executablePath = systemBrowser();
	const browser = await chromium.launch({ ...(executablePath ? { executablePath } : {}), args: ['--no-sandbox', '--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream'] });
	try {
		const page = await (await browser.newContext({ permissions: ['camera'] })).newPage();
		failOnErrors(page);
		await begin(page, 'Loading at the bench, an exercise', `${baseURL}/`);
		const run = page.url().split('/').pop();
		await page.keyboard.press('f');
		await page.getByRole('dialog').getByRole('button', { name: 'Take it' }).click();
		await expect(page.getByRole('dialog')).toBeHidden();

		await page.goto(`${baseURL}/timeline/${run}`);
		const picture = page.getByRole('img', { name: /\.jpg$/ });
		await expect(picture).toBeVisible();
		expect(await picture.evaluate((img: HTMLImageElement) => img.naturalWidth)).toBeGreaterThan(100);
		const coming = page.waitForEvent('download');
		await page.getByRole('button', { name: /^Save .*\.jpg$/ }).click();
		const saved = await coming;
		expect(saved.suggestedFilename()).toMatch(/^\d{8}-\d{6}_\d{5}_ready-lay-out\.jpg$/);
		// JPEG's start-of-image marker, ISO/IEC 10918-1
		expect([...readFileSync(await saved.path()).subarray(0, 2)]).toEqual([0xff, 0xd8]);
	} finally {
		await browser.close();
	}
});
