import AxeBuilder from '@axe-core/playwright';
import { expect, type Page, test } from '@playwright/test';
import { withMicrophone } from './hearing';
import { begin, failOnErrors } from './visit';
import { type Said, timedRecording } from './voice-recording';

test.describe.configure({ mode: 'serial', timeout: 240_000 });

/** The microphone plays it from each of its openings: first to say the words, then to walk by. "stop" is skipped in the pause. */
const BEGIN_S = 4;
const EVERY_S = 2.6;
const PAUSE_S = 6;
const WORDS = ['weiter', 'weiter', 'weiter', 'yes', 'yes', 'yes', 'send it', 'send it', 'send it'];
const said: Said = WORDS.map((word, i) => [BEGIN_S + i * EVERY_S + (i < 3 ? 0 : PAUSE_S), word] as const);
const NEIGHBOUR_S = BEGIN_S + WORDS.length * EVERY_S + PAUSE_S + 2;
const recording = timedRecording([...said, [NEIGHBOUR_S, 'neighbour-next'], [NEIGHBOUR_S + 20, 'weiter']], NEIGHBOUR_S + 60);

test.use({ launchOptions: withMicrophone(recording) });

const SIZES = [[1280, 800], [1024, 768], [1920, 1080], [390, 844]] as const;
const shots = process.env['HANDRAIL_SHOTS'];
async function look(page: Page, name: string): Promise<void> {
	for (const theme of ['dim', 'daylight']) {
		await page.evaluate((is) => (document.documentElement.dataset['theme'] = is), theme);
		const { violations } = await new AxeBuilder({ page }).analyze();
		expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 120)).join(' and ')}`), `${name}, ${theme}`).toEqual([]);
		expect(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), name).toBeLessThanOrEqual(0);
		if (!shots) continue;
		for (const [width, height] of SIZES) {
			await page.setViewportSize({ width, height });
			await page.screenshot({ path: `${shots}/${name} ${width} ${theme}.png`, fullPage: true });
		}
		await page.setViewportSize({ width: 1280, height: 800 });
	}
}

test('a neighbour’s “next” does nothing where only the operator counts, and the screen says what that can do', async ({ page }) => {
	failOnErrors(page);
	await page.goto('/settings');
	await page.getByRole('radio', { name: 'Handrail’s own' }).check({ force: true });
	await page.goto('/voice?person=Ada%20Invented');
	await expect(page.getByText('Whose words count')).toHaveCount(0);
	await page.getByRole('button', { name: /^Say the first \d+ words/ }).click();
	await expect(page.getByRole('heading', { name: 'Say stop' })).toBeVisible({ timeout: 60_000 });
	await page.getByRole('button', { name: 'Skip this word' }).click();
	await expect(page.getByRole('heading', { name: 'Say step back' })).toBeVisible({ timeout: 90_000 });
	await page.getByRole('button', { name: 'Pause' }).click();
	await page.getByRole('button', { name: 'Take away “no”' }).click();
	await expect(page.getByRole('radio', { name: 'Ada Invented’s only' })).toBeDisabled();
	await expect(page.getByText('Say at least three words', { exact: false })).toBeVisible();
	await look(page, 'only not yet');
	await page.getByRole('button', { name: 'Bring it back' }).click();
	await expect(page.getByRole('radio', { name: 'Anyone’s' })).toBeChecked();
	await page.getByRole('radio', { name: 'Ada Invented’s only' }).check({ force: true });
	await expect(page.getByText('“Stop” counts from anybody.')).toBeVisible();
	await look(page, 'only');
	await page.reload();
	await expect(page.getByRole('radio', { name: 'Ada Invented’s only' })).toBeChecked();

	await begin(page, 'Loading at the bench, an exercise');
	await expect(page.getByText('Listening to you only.')).toBeVisible();
	await expect(page.getByText('Not your voice, not counted: “next”.', { exact: false })).toBeVisible({ timeout: 90_000 });
	const step = (await page.getByRole('heading', { level: 1 }).textContent())!;
	await look(page, 'only heard');
	// the line goes, the step stays, until the operator says it
	await expect(page.getByText('Not your voice', { exact: false })).toHaveCount(0);
	await expect(page.getByRole('heading', { level: 1 })).toHaveText(step);
	await expect(page.getByRole('heading', { level: 1 })).not.toHaveText(step, { timeout: 60_000 });
});
