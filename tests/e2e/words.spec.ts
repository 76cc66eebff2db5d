import { execFileSync, spawn } from 'node:child_process';
import { expect, type Page, test } from '@playwright/test';
import { begin, PRESS_MS } from './visit';

const port = 4401;
const at = `http://localhost:${port}/`;

test.use({ serviceWorkers: 'block' });

/** Every string that an edition holds in a language is marked as the message library's are. */
function marked(value: unknown, inLanguage = false): unknown {
	if (typeof value === 'string') return inLanguage ? `⟦${value}⟧` : value;
	if (Array.isArray(value)) return value.map((item) => marked(item, inLanguage));
	if (value && typeof value === 'object') return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, marked(item, inLanguage || key === 'en')]));
	return value;
}

/** What is shown or read out and stands outside every mark. Letters that are no words: units (of the shipped procedures; "post" counts posts), clock times, names typed in. */
const unmarked = (page: Page): Promise<string[]> =>
	page.evaluate(() => {
		const bare = (text: string) => {
			let rest = text;
			for (let before = ''; before !== rest; ) [before, rest] = [rest, rest.replace(/⟦[^⟦⟧]*⟧/g, ' ')];
			return rest.replace(/Ada Invented|\d{1,2} \p{L}+ \d{4}|(?<![\p{L}])(post|mm|[µμ]m|nm|°|kV|keV|pA|nA|mbar|Pa|min|h|s|K|°C|%)(?![a-z])/gu, ' ').trim();
		};
		const shown: string[] = [document.title];
		for (const element of document.querySelectorAll('body *')) {
			if (['SCRIPT', 'STYLE'].includes(element.tagName)) continue;
			for (const name of ['aria-label', 'title', 'placeholder', 'alt']) shown.push(element.getAttribute(name) ?? '');
			for (const node of element.childNodes) if (node.nodeType === Node.TEXT_NODE) shown.push(node.textContent ?? '');
		}
		return [...new Set(shown.map(bare).filter((text) => /\p{L}{2,}/u.test(text)))];
	});

test('in a pseudo-language no screen shows a word of its own', async ({ page }) => {
	test.setTimeout(300_000);
	const env = { ...process.env, HANDRAIL_OUT: 'build/pseudo' };
	execFileSync('npx', ['--no-install', 'vite', 'build', '--config', 'tests/config/vite.pseudo.config.ts', '--logLevel', 'error'], { env, stdio: 'inherit' });
	const server = spawn(process.execPath, ['build/pseudo/app/index.js'], { env: { ...env, PORT: String(port) }, stdio: ['ignore', 'ignore', 'inherit'] });
	try {
		await expect.poll(() => page.request.get(at).then((answer) => answer.ok(), () => false), { timeout: 60_000 }).toBe(true);
		await page.route('**/editions/*.json', async (route) => {
			const answer = await route.fetch();
			await route.fulfill({ json: marked(await answer.json()) });
		});
		const look = async (name: string) => expect.soft(await unmarked(page), name).toEqual([]);
		await page.goto(at);
		await expect(page.getByRole('button', { name: 'I have read this' })).toBeVisible({ timeout: 60_000 });
		await look('first start');
		await begin(page, 'A whole lift-out visit', at);
		await look('walk');
		for (const key of ['x', 'm', 'f', 'l', 'g', 'b', 'o', 'i', 'h']) {
			await page.keyboard.press(key);
			await expect(page.getByRole('dialog')).toBeVisible();
			await look(`sheet of ${key}`);
			await page.getByRole('dialog').getByRole('button', { name: 'Back to the step' }).first().click();
		}
		await page.locator('.dock').last().getByRole('button', { name: 'More' }).click();
		await look('more');
		await page.getByRole('dialog').getByRole('button', { name: 'Back to the step' }).first().click();
		for (let press = 0; press < 40; press++) {
			await page.clock.fastForward(PRESS_MS);
			await page.keyboard.press((await page.getByRole('button', { name: 'Answer above' }).isVisible()) ? '1' : 'Enter');
			await look(`press ${press}`);
		}
		const run = page.url().split('/').pop();
		for (const path of ['', 'settings', 'voice?person=Ada%20Invented', 'runs', 'paper/lift-out-visit', `timeline/${run}`]) {
			await page.goto(`${at}${path}`);
			await expect(page.locator('h1').first()).toBeVisible();
			await page.waitForTimeout(500);
			await look(path || 'start');
		}
	} finally {
		server.kill();
	}
});
