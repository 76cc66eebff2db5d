import { expect, type Page, test } from '@playwright/test';
import { listenByBrowser, listenWithOwnEars, say, withMicrophone } from './hearing';
import { begin } from './visit';

/** What can go wrong with hearing is said plainly, and the walk goes on by touch and keys. */

// files of the app are taken from the server, where the tests break them
test.use({ serviceWorkers: 'block', launchOptions: withMicrophone() });

async function goesOn(page: Page): Promise<void> {
	const step = await page.locator('main h1').last().innerText();
	await page.clock.fastForward(800);
	await page.keyboard.press('Enter');
	await expect(page.locator('main h1').last()).not.toHaveText(step);
}
/** How getUserMedia answers from the page's beginning on. */
const refusing = (page: Page, name: string) =>
	page.addInitScript((is) => void (navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('not here', is))), name);

test('the microphone is denied', async ({ page }) => {
	await refusing(page, 'NotAllowedError');
	await listenWithOwnEars(page);
	await begin(page, 'Loading at the bench, an exercise');
	await expect(page.getByText('this page may not use the microphone', { exact: false })).toBeVisible();
	await goesOn(page);
});

test('there is no microphone', async ({ page }) => {
	await refusing(page, 'NotFoundError');
	await listenWithOwnEars(page);
	await begin(page, 'Loading at the bench, an exercise');
	await expect(page.getByText('no microphone, or it was unplugged', { exact: false })).toBeVisible();
	await goesOn(page);
	await page.goto('/voice?person=Ada%20Invented');
	await page.getByRole('button', { name: /^Say the first/ }).click();
	await expect(page.getByRole('alert')).toContainText('No microphone, or it was unplugged');
	await expect(page.getByRole('button', { name: /^Say the first/ })).toBeVisible();
});

test('the microphone is unplugged in the middle of a run, plugged in again, and heard by again; one touch makes the guide deaf', async ({ page }) => {
	await page.addInitScript(() => {
		const open = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
		navigator.mediaDevices.getUserMedia = async (asked) => {
			const media = await open(asked);
			// an end that is told by the browser, as when the plug is pulled
			Object.assign(window, { unplug: () => media.getAudioTracks().forEach((track) => track.dispatchEvent(new Event('ended'))) });
			return media;
		};
	});
	await listenWithOwnEars(page);
	await begin(page, 'Loading at the bench, an exercise');
	await expect(page.getByText(/^Listening\./)).toBeVisible();
	await page.evaluate(() => (window as unknown as { unplug(): void }).unplug());
	await expect(page.getByText('no microphone, or it was unplugged', { exact: false })).toBeVisible();
	await goesOn(page);
	await page.keyboard.press('e');
	await expect(page.getByText(/^Listening\./)).toBeVisible();
	await page.locator('.dock').last().getByRole('button', { name: 'More' }).click();
	await page.getByRole('dialog').getByRole('button', { name: /Stop listening/ }).click();
	await expect(page.getByText('Not listening.', { exact: true })).toBeVisible();
});

test('the audio worklet does not load', async ({ page }) => {
	await page.addInitScript(() => void (AudioWorklet.prototype.addModule = () => Promise.reject(new DOMException('cannot be loaded', 'AbortError'))));
	await listenWithOwnEars(page);
	await begin(page, 'Loading at the bench, an exercise');
	await expect(page.getByText('no microphone, or it was unplugged', { exact: false })).toBeVisible();
	await goesOn(page);
});

for (const [what, answer] of [['missing', { status: 404, body: 'gone' }], ['damaged', { status: 200, body: Buffer.alloc(4096, 7) }]] as const)
	test(`a file of the recogniser is ${what}`, async ({ page }) => {
		await page.route('**/voice/head.f16', (route) => route.fulfill({ ...answer, contentType: 'application/octet-stream' }));
		await listenWithOwnEars(page);
		await begin(page, 'Loading at the bench, an exercise');
		await expect(page.getByText('recogniser’s files are missing or damaged', { exact: false })).toBeVisible();
		await goesOn(page);
	});

test('a spoken phrase makes the guide deaf; a key lets it hear again, no word does', async ({ page }) => {
	await listenByBrowser(page);
	await begin(page, 'Loading at the bench, an exercise');
	await expect(page.getByText(/^Listening\./)).toBeVisible();
	await say(page, 'stop listening');
	await expect(page.getByText('Not listening.', { exact: true })).toBeVisible();
	await say(page, 'listen again');
	await expect(page.getByText('Not listening.', { exact: true })).toBeVisible();
	await page.keyboard.press('e');
	await expect(page.getByText(/^Listening\./)).toBeVisible();
	const step = await page.locator('main h1').last().innerText();
	await page.clock.fastForward(800);
	await say(page, 'next');
	await expect(page.locator('main h1').last()).not.toHaveText(step);
});
