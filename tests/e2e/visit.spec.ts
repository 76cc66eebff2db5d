import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, type Page, test } from '@playwright/test';
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

for (const [name, hand] of [['keyboard', keys], ['touch', touch]] as const)
	test(`the whole visit by ${name} only, with one undone step and one trouble`, async ({ page }) => {
		test.setTimeout(900_000);
		failOnErrors(page);
		await begin(page, 'A whole lift-out visit');
		const walked = await walkToTheEnd(page, await editionOf(page, 'lift-out-visit'), hand, { undoAt: 6, troubleAt: 60, limit: 420 });
		expect(walked).toMatchObject({ undone: 1, troubles: 1 });
		expect(walked.steps).toBeGreaterThan(100);
		await exportsAgree(page);
		expect(await page.locator('.undone').count()).toBeGreaterThan(0);
	});

test('the bench exercise by one pedal only', async ({ page }) => {
	test.setTimeout(600_000);
	failOnErrors(page);
	await begin(page, 'Loading at the bench, an exercise');
	const pedal = (p: Page) => p.keyboard.press('PageDown');
	/** Holds the pedal for the ring, waits until the wanted target is lit, presses. */
	async function ring(p: Page, wanted: RegExp): Promise<void> {
		await p.keyboard.down('PageDown');
		await p.waitForTimeout(700);
		await p.keyboard.up('PageDown');
		await expect(p.locator(':focus')).toHaveText(wanted, { timeout: 60_000 });
		await pedal(p);
	}
	const hand: Hand = {
		wayOn: pedal,
		answer: async (p) => ring(p, new RegExp((await p.locator('main section.step button').first().innerText()).replace(/\s+/g, '\\s*'))),
		async number(p, text) {
			for (const key of text) await ring(p, new RegExp(`^\\s*${key === '.' ? '\\.' : key}\\s*$`));
			await pedal(p);
		},
		back: (p) => ring(p, /^\s*Step back\s*$/),
		async trouble(p) {
			await ring(p, /^\s*Trouble\s*$/);
			await expect(p.getByRole('dialog')).toBeVisible();
			const item = p.getByRole('dialog').locator('.list button').first();
			await ring(p, new RegExp((await item.innerText()).trim()));
		}
	};
	const walked = await walkToTheEnd(page, await editionOf(page, 'bench-loading'), hand, { undoAt: 4, troubleAt: 8, limit: 160 });
	expect(walked).toMatchObject({ undone: 1, troubles: 1 });
	await exportsAgree(page);
});
