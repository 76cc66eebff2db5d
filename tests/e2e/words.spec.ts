import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { expect, type Page, test } from '@playwright/test';
import type { Scenario } from '../../src/lib/procedure/scenario';
import { reckonings } from '../../src/lib/metrology/registry';
import { begin, PRESS_MS } from './visit';

const port = Number(process.env.HANDRAIL_PORT ?? 4400) + 1;
const at = `http://localhost:${port}/`;

test.use({ serviceWorkers: 'block' });

/** Every string that an edition holds in a language is marked as the message library's are. */
function marked(value: unknown, inLanguage = false): unknown {
	if (typeof value === 'string') return inLanguage ? `⟦${value}⟧` : value;
	if (Array.isArray(value)) return value.map((item) => marked(item, inLanguage));
	if (value && typeof value === 'object') return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, marked(item, inLanguage || key === 'en')]));
	return value;
}

/** Names that people gave: those of the invented history, and the one typed in here. */
const names = ['Ada Invented', ...(JSON.parse(readFileSync(new URL('../../procedures/demo/scenario.json', import.meta.url), 'utf8')) as Scenario).people.map(({ name }) => name)];

/**
 * What is shown or read out and stands outside every mark. Letters that are no words: units (of the shipped procedures; "post" counts
 * posts), chemical formulas, functions and symbols of a formula, clock times, ids of parts, names typed in.
 */
const unmarked = (page: Page): Promise<string[]> =>
	page.evaluate((names) => {
		const bare = (text: string) => {
			let rest = text;
			for (let before = ''; before !== rest; ) [before, rest] = [rest, rest.replace(/⟦[^⟦⟧]*⟧/g, ' ')];
			for (const name of names) rest = rest.replaceAll(name, ' ');
			return rest.replace(/(tip:)?slot-\d-[0-9a-f]+-\d+|lamella:[0-9a-f]+|\d{1,2} \p{L}+ \d{4}|(?<![\p{L}])(post|SiO2|Si3N4|GaAs|Si|Al|Cr|Au|Cu|Pt|sin|cos|mm|cm|g|kg|mol|mrad|rad|ms|ns|nC|[µμ][ms]|nm|°|kV|keV|pA|nA|pC|mbar|Pa|min|h|s|K|°C|%)(?![a-z])/gu, ' ').trim();
		};
		const shown: string[] = [document.title];
		for (const element of document.querySelectorAll('body *')) {
			if (['SCRIPT', 'STYLE'].includes(element.tagName)) continue;
			for (const name of ['aria-label', 'title', 'placeholder', 'alt']) shown.push(element.getAttribute(name) ?? '');
			for (const node of element.childNodes) if (node.nodeType === Node.TEXT_NODE) shown.push(node.textContent ?? '');
		}
		return [...new Set(shown.map(bare).filter((text) => /\p{L}{2,}/u.test(text)))];
	}, names);

/** Sums with what is typed into their first fields: a move, a refusal, a question, faults. */
const spoilt: readonly (readonly [sum: string, typed: readonly string[]])[] = [
	['half-difference', ['30 ± 1', '10 ± 1']],
	['half-difference', ['0', '10']],
	['half-difference', ['far', '1e9']],
	['z-on-tilt', ['10', '0', '52']],
	['coincidence-residue', ['1', '2 ± 1']],
	['time-trench', ['1000', '1000', '1000']],
	['time-polygon', ['0, 0; 10, 10; 10, 0; 0, 10', '1', '1']],
	['time-polygon', ['0, 0; 10', '1', '1']],
	['depth-from-apparent', ['5 ± 1']]
];

test.describe.configure({ mode: 'serial' });
let server: ChildProcess;
test.beforeAll(async ({ request }) => {
	test.setTimeout(300_000);
	const env = { ...process.env, HANDRAIL_OUT: 'build/pseudo' };
	execFileSync('npx', ['--no-install', 'vite', 'build', '--config', 'tests/config/vite.pseudo.config.ts', '--logLevel', 'error'], { env, stdio: 'inherit' });
	server = spawn(process.execPath, ['build/pseudo/app/index.js'], { env: { ...env, PORT: String(port) }, stdio: ['ignore', 'ignore', 'inherit'] });
	await expect.poll(() => request.get(at).then((answer) => answer.ok(), () => false), { timeout: 60_000 }).toBe(true);
});
test.afterAll(() => void server?.kill());
test.beforeEach(({ page }) =>
	page.route('**/editions/*.json', async (route) => {
		const answer = await route.fetch();
		await route.fulfill({ json: marked(await answer.json()) });
	})
);
const looker = (page: Page) => async (name: string) => expect.soft(await unmarked(page), name).toEqual([]);

test('in a pseudo-language no screen shows a word of its own', async ({ page }) => {
	test.setTimeout(300_000);
	const look = looker(page);
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
	const sums = reckonings.map(({ name }) => `reckon/${name}`);
	for (const path of ['', 'settings', 'voice?person=Ada%20Invented', 'runs', 'paper/lift-out-visit', `timeline/${run}`, 'instrument', 'instrument/signs', 'parts', 'parts/labels', 'parts/positions', 'cuts', 'reckon', ...sums]) {
		await page.goto(`${at}${path}`);
		await expect(page.locator('h1').first()).toBeVisible();
		await page.waitForTimeout(500);
		await page.evaluate(() => document.querySelectorAll('details').forEach((one) => (one.open = true)));
		await look(path || 'start');
	}
	await page.goto(`${at}cuts`);
	await page.getByRole('button', { name: 'Begin with a usual lift-out' }).click();
	for (let i = 0; i < 2; i++) await page.getByRole('button', { name: 'Add a measured cut' }).click();
	await page.evaluate(() => document.querySelectorAll('details').forEach((one) => (one.open = true)));
	await look('a plan of cuts');
	for (const [sum, typed] of spoilt) {
		await page.goto(`${at}reckon/${sum}`);
		await expect(page.locator('h1').first()).toBeVisible();
		const fields = page.locator('.field');
		for (const [index, text] of typed.entries()) {
			const field = fields.nth(index).locator('input, textarea').first();
			if (await field.isVisible()) await field.fill(text);
		}
		await page.waitForTimeout(200);
		await look(`${sum}: ${typed.join(', ')}`);
	}
});

test('in a pseudo-language the history and the people’s pages show no word of their own', async ({ page }) => {
	test.setTimeout(600_000);
	const look = looker(page);
	await page.goto(at);
	await page.getByRole('button', { name: 'I have read this' }).click();
	await page.goto(`${at}history`);
	await expect(page.getByText('There are no runs to look at yet.')).toBeVisible();
	await look('empty history');
	await page.goto(`${at}runs`);
	await page.getByRole('button', { name: 'Bring in the invented history' }).click();
	await expect(page.getByRole('progressbar')).toBeVisible();
	await look('bringing in');
	await expect(page.getByRole('button', { name: 'Take the invented runs away' })).toBeVisible({ timeout: 400_000 });
	await look('invented runs');
	await page.goto(`${at}history`);
	await page.getByRole('button', { name: 'Stop here' }).click();
	await expect(page.getByRole('button', { name: 'Read them too' })).toBeVisible();
	await look('history stopped');
	await page.getByRole('button', { name: 'Read them too' }).click();
	/** All tables open: what stands in them is looked at too. */
	const open = async (name: string) => {
		await expect(page.getByRole('progressbar')).toHaveCount(0, { timeout: 120_000 });
		await expect(page.locator('svg[role="img"]').or(page.locator('.standing')).first()).toBeVisible({ timeout: 60_000 });
		for (const summary of await page.locator('summary').all()) await summary.click();
		await look(name);
	};
	await open('history');
	await page.goto(`${at}people`);
	await open('people');
	await page.goto(`${at}people/Sunniva%20Praat`);
	await open('a person, a stage');
	await page.getByLabel('Times of').selectOption({ index: 1 });
	await look('a person, a step');
	await page.getByRole('radio', { name: 'Whole visit' }).check({ force: true });
	await look('a person, the visit');
});
