import { readFileSync } from 'node:fs';
import AxeBuilder from '@axe-core/playwright';
import { expect, type Page, test } from '@playwright/test';
import { begin, failOnErrors } from './visit';
import { withMicrophone } from './hearing';
import { type Said, timedRecording } from './voice-recording';

test.describe.configure({ mode: 'serial', timeout: 240_000 });

/** Said for "next", "stop" and "yes": a German word for the first, another command's for the second. The microphone plays it from its opening. */
const WORDS = ['weiter', 'weiter', 'weiter', 'send it', 'send it', 'send it', 'yes', 'yes', 'yes'];
const BEGIN_S = 4;
const EVERY_S = 2.6;
const said: Said = WORDS.map((word, i) => [BEGIN_S + i * EVERY_S, word] as const);
const recording = timedRecording(said, BEGIN_S + WORDS.length * EVERY_S + 60);

test.use({ launchOptions: withMicrophone(recording) });

async function accessible(page: Page, name: string): Promise<void> {
	await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
	for (const theme of ['dim', 'daylight']) {
		await page.evaluate((is) => (document.documentElement.dataset['theme'] = is), theme);
		const { violations } = await new AxeBuilder({ page }).analyze();
		expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120)).join(' and ')}`), `${name}, ${theme}`).toEqual([]);
		expect(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), name).toBeLessThanOrEqual(0);
	}
}

const SIZES = [[1280, 800], [1024, 768], [1920, 1080], [390, 844]] as const;
const shots = process.env['HANDRAIL_SHOTS'];
async function look(page: Page, name: string): Promise<void> {
	await accessible(page, name);
	if (!shots) return;
	for (const theme of ['dim', 'daylight']) {
		await page.evaluate((is) => (document.documentElement.dataset['theme'] = is), theme);
		for (const [width, height] of SIZES) {
			await page.setViewportSize({ width, height });
			await page.screenshot({ path: `${shots}/${name} ${width} ${theme}.png`, fullPage: true });
		}
	}
	await page.setViewportSize({ width: 1280, height: 800 });
}

/** Says three words at the screen that asks for them. */
async function enrol(page: Page): Promise<void> {
	await page.goto('/voice?person=Ada%20Invented');
	await page.getByRole('button', { name: /^Say the first \d+ words/ }).click();
	await expect(page.getByRole('heading', { name: 'Say next' })).toBeVisible();
	await expect(page.getByRole('heading', { name: 'Say stop' })).toBeVisible({ timeout: 60_000 });
	await expect(page.getByRole('heading', { name: 'Say yes' })).toBeVisible({ timeout: 60_000 });
	await expect(page.getByText('word 4 of', { exact: false })).toBeVisible({ timeout: 60_000 });
	await page.getByRole('button', { name: 'Pause' }).click();
	await expect(page.getByText('Words of Ada Invented: 3', { exact: false })).toBeVisible();
}

test('three words are said, kept over a reload, walked with, saved, taken away, brought back and brought in', async ({ page }) => {
	failOnErrors(page);
	await page.goto('/settings');
	await page.getByRole('radio', { name: 'Handrail’s own' }).check({ force: true });
	await page.getByRole('link', { name: 'Your words' }).click();
	await expect(page.getByText('Give a name first', { exact: false })).toBeVisible();
	await enrol(page);
	await page.reload();
	await expect(page.getByText('Words of Ada Invented: 3', { exact: false })).toBeVisible();
	await expect(page.getByRole('button', { name: /^Go on: \d+ words left/ })).toBeVisible();

	const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save as a file' }).click()]);
	const file = await download.path();
	expect(download.suggestedFilename()).toBe('ada-invented.words.json');
	expect((JSON.parse(readFileSync(file, 'utf8')) as { words: { word: string }[] }).words.map(({ word }) => word)).toEqual(['next', 'stop', 'yes']);

	await page.getByRole('button', { name: 'Delete all words' }).click();
	await expect(page.getByText('No words of Ada Invented', { exact: false })).toBeVisible();
	await page.getByRole('button', { name: 'Bring it back' }).click();
	await expect(page.getByText('Words of Ada Invented: 3', { exact: false })).toBeVisible();
	await page.getByRole('button', { name: 'Delete all words' }).click();
	await page.reload();
	await expect(page.getByText('No words of Ada Invented', { exact: false })).toBeVisible();
	await page.getByLabel('Bring in from a file').setInputFiles({ name: 'hostile.json', mimeType: 'application/json', buffer: Buffer.from('{"format":"handrail words","version":9}') });
	await expect(page.getByRole('alert')).toContainText('Nothing was brought in: the file is of version 9');
	await page.getByLabel('Bring in from a file').setInputFiles(file);
	await expect(page.getByText('Words of Ada Invented: 3', { exact: false })).toBeVisible();

	// "weiter" three times walks three steps, "send it" now says stop
	await begin(page, 'Loading at the bench, an exercise');
	await expect(page.getByText('Listening.')).toBeVisible();
	await expect(page.getByRole('heading', { name: /^Held/ })).toBeVisible({ timeout: 60_000 });
	await page.goto(page.url().replace('/walk/', '/timeline/'));
	await expect(page.getByRole('row', { name: /Ground yourself.*Done/ })).toBeVisible();
	await expect(page.locator('main')).toContainText('· held ·');
});

test('the screens of the words are open to everybody', async ({ page }) => {
	failOnErrors(page);
	await page.goto('/voice');
	await look(page, 'voice no name');
	await page.goto('/voice?person=Ada%20Invented');
	await expect(page.getByRole('button', { name: /^Say the first/ })).toBeVisible();
	await look(page, 'voice new');
	await page.getByRole('button', { name: /^Say the first \d+ words/ }).click();
	await expect(page.getByRole('heading', { name: 'Say next' })).toBeVisible();
	await expect(page.getByText('Good')).toBeVisible({ timeout: 60_000 });
	await look(page, 'voice say');
	await page.keyboard.press('Escape');
	await look(page, 'voice kept');
});

test('a new operator is offered to say the words first, and teaches one in another language', async ({ page }) => {
	failOnErrors(page);
	await page.goto('/settings');
	await page.getByRole('radio', { name: 'Handrail’s own' }).check({ force: true });
	await page.goto('/');
	await page.getByRole('button', { name: 'I have read this' }).click();
	await page.getByLabel('Who works').fill('Bo Invented');
	await expect(page.getByText('Bo Invented has not said the words', { exact: false })).toBeVisible();
	await look(page, 'start offer');
	await page.getByRole('link', { name: 'Say the words first' }).click();
	await expect(page.getByLabel('Whose words')).toHaveValue('Bo Invented');
	await page.getByLabel('For which command').selectOption('next');
	await page.getByLabel('What you will say').fill('weiter');
	await page.getByRole('button', { name: 'Say it three times' }).click();
	await expect(page.getByRole('heading', { name: 'Say your word for “next” weiter' })).toBeVisible();
	await expect(page.getByText('“weiter” for “next”')).toBeVisible({ timeout: 60_000 });
	await page.getByRole('button', { name: 'Take away “weiter”' }).click();
	await expect(page.getByText('No words of Bo Invented', { exact: false })).toBeVisible();
	await page.getByRole('button', { name: 'Bring it back' }).click();
	await page.goto('/');
	await page.getByLabel('Who works').fill('bo invented');
	await expect(page.getByRole('button', { name: /^Begin:/ })).toBeVisible();
	await expect(page.getByText('has not said the words', { exact: false })).toHaveCount(0);
});
