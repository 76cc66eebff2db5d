import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, type Page, test } from '@playwright/test';
import { listenByBrowser, say } from './hearing';
import { begin, editionOf, failOnErrors, type Hand, walkToTheEnd } from './visit';

const keys: Hand = {
	wayOn: (page) => page.keyboard.press('Enter'),
	answer: (page, at) => page.keyboard.press(String(at + 1)),
	async number(page, text) {
		for (const key of text) await page.keyboard.press(key);
		await page.keyboard.press('Enter');
	},
	back: (page) => page.keyboard.press('Backspace'),
	async trouble(page) {
		await page.keyboard.press('x');
		await expect(page.getByRole('dialog')).toBeVisible();
		// the heading has the focus: past "back to the step" to the first trouble
		await page.keyboard.press('Tab');
		await page.keyboard.press('Tab');
		await page.keyboard.press('Enter');
	}
};

/** How long each choice is lit where nothing else is set. */
const SCAN_MS = 1400;

const dock = (page: Page) => page.locator('.dock').last();
const touch: Hand = {
	async wayOn(page) {
		await page.locator('.dock').last().getByRole('button').first().click();
		await glovesOff(page);
	},
	async answer(page, at) {
		await page.locator('main section.step button').nth(at).click();
		await glovesOff(page);
	},
	async number(page, text) {
		for (const key of text) await page.locator('[data-scan="stay"]').getByRole('button', { name: key === '.' ? 'point' : key === '-' ? 'minus' : key, exact: true }).click();
		await dock(page).getByRole('button').first().click();
	},
	back: (page) => dock(page).getByRole('button', { name: 'Step back' }).click(),
	async trouble(page) {
		await dock(page).getByRole('button', { name: 'Trouble' }).click();
		await page.getByRole('dialog').locator('.list button').first().click();
	}
};

/** Touch is refused while gloves are clean: whoever walks by touch alone takes them off first. */
async function glovesOff(page: Page): Promise<void> {
	if (!(await page.getByText('Gloves are clean. Say it or press the pedal.').isVisible())) return;
	await dock(page).getByRole('button', { name: 'More' }).click();
	await page.getByRole('dialog').getByRole('button', { name: /^Gloves/ }).click();
	await page.getByRole('button', { name: 'Gloves are off' }).click();
}

/** Downloads the three exports from the timeline and holds them against the command line's, made from the same journal. */
async function exportsAgree(page: Page): Promise<void> {
	await page.getByRole('link', { name: /timeline/i }).click();
	const folder = mkdtempSync(join(tmpdir(), 'handrail-'));
	const got: Record<string, string> = {};
	for (const [ending, name] of [['md', 'Markdown'], ['csv', 'CSV'], ['json', 'JSON, the whole journal']] as const) {
		const coming = page.waitForEvent('download');
		await page.getByRole('button', { name, exact: true }).click();
		got[ending] = readFileSync(await (await coming).path(), 'utf8');
	}
	// the JSON holds an event a line, each as it stands in the journal file
	const lines = (got.json ?? '').split('\n').slice(1, -2).map((line) => line.replace(/,$/, ''));
	const journal = join(folder, 'run.journal.jsonl');
	writeFileSync(journal, lines.join('\n') + '\n');
	const handrail = (...args: string[]) => execFileSync(process.execPath, ['build/cli/handrail.js', ...args], { encoding: 'utf8', maxBuffer: 1 << 28 });
	handrail('replay', journal); // throws unless the chain holds
	for (const ending of ['md', 'csv', 'json']) expect(handrail('export', journal, '--as', ending), ending).toBe(got[ending]);
}

const press = (p: Page) => p.keyboard.press('PageDown');
const lit = (p: Page) => p.locator('[data-scan-root] :focus');
/** Holds the pedal for the ring unless it runs on, waits until the wanted target is lit, presses. */
async function ring(p: Page, wanted: string, runsOn = false): Promise<void> {
	if (!runsOn) {
		await p.keyboard.down('PageDown');
		await p.clock.fastForward(650);
		await p.keyboard.up('PageDown');
	}
	const words = (text: string) => text.replace(/\s+/g, ' ').trim();
	for (let rests = 0; words(await lit(p).innerText()) !== words(wanted); rests++) {
		if (rests > 60) throw new Error(`never lit: ${wanted}`);
		await p.clock.fastForward(SCAN_MS);
	}
	await press(p);
}
const pedal: Hand = {
	wayOn: press,
	answer: async (p) => ring(p, await p.locator('main section.step button').first().innerText()),
	async number(p, text) {
		for (const [at, key] of [...text].entries()) {
			await ring(p, key, at > 0);
			await p.clock.fastForward(150);
		}
		await ring(p, 'Send it', true);
	},
	back: (p) => ring(p, 'Step back'),
	async trouble(p) {
		await ring(p, 'Trouble');
		await expect(p.getByRole('dialog')).toBeVisible();
		const item = p.getByRole('dialog').locator('.list button').first();
		await ring(p, await item.innerText());
	}
};

const DIGITS = ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];
const SAID: Readonly<Record<string, string>> = { Yes: 'yes', 'Go on': 'resume', 'I confirm': 'I confirm' };
const voice: Hand = {
	async wayOn(page) {
		const label = (await dock(page).getByRole('button').first().innerText()).trim();
		await say(page, SAID[label] ?? 'next');
	},
	answer: (page, at) => say(page, ['answer one', 'answer two', 'answer three'][at]!),
	async number(page, text) {
		for (const key of text) await say(page, key === '.' ? 'point' : key === '-' ? 'minus' : DIGITS[Number(key)]!);
		await say(page, 'send it');
	},
	back: (page) => say(page, 'step back'),
	async trouble(page) {
		await say(page, 'trouble');
		await expect(page.getByRole('dialog').locator('[data-place="1"]')).toBeVisible();
		await say(page, 'answer one');
	}
};

for (const [name, hand, before] of [['keyboard', keys], ['touch', touch], ['pedal', pedal], ['voice', voice, listenByBrowser]] as const)
	test(`the whole visit by ${name} only, with one undone step and one trouble`, async ({ page }) => {
		test.setTimeout(900_000);
		failOnErrors(page);
		await before?.(page);
		await begin(page, 'A whole lift-out visit');
		const walked = await walkToTheEnd(page, await editionOf(page, 'lift-out-visit'), hand, { undoAt: 6, troubleAt: 60, limit: 420 });
		expect(walked).toMatchObject({ undone: 1, troubles: 1 });
		expect(walked.steps).toBeGreaterThan(100);
		await exportsAgree(page);
		expect(await page.locator('.undone').count()).toBeGreaterThan(0);
	});
