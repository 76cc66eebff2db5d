import { expect, type Page } from '@playwright/test';
import type { Edition, ReadingSpec } from '../../src/lib/procedure/edition';

/** One way of giving commands; each test walks with one of them only. */
export interface Hand {
	wayOn(page: Page): Promise<void>;
	answer(page: Page, at: number): Promise<void>;
	number(page: Page, text: string): Promise<void>;
	back(page: Page): Promise<void>;
	/** Opens what can go wrong and takes the first that can happen here. */
	trouble(page: Page): Promise<void>;
}

/** A second press within 700 ms counts once: the guide would rightly ignore a faster hand. The page's clock is put forward, so that no test waits. */
export const PRESS_MS = 740;

/** Any console error fails a test. */
export function failOnErrors(page: Page): void {
	page.on('pageerror', (fault) => {
		throw fault;
	});
	page.on('console', (message) => {
		if (message.type() === 'error') throw new Error(`console: ${message.text()}`);
	});
}

/** Begins a procedure on a fresh device: two slots with tips, everything else as it must be. */
export async function begin(page: Page, title: string, at = '/'): Promise<void> {
	await page.clock.install();
	await page.goto(at);
	await page.getByRole('button', { name: 'I have read this' }).click();
	await page.getByRole('radio', { name: title }).check({ force: true });
	await page.getByLabel('Who works').fill('Ada Invented');
	await page.getByRole('button', { name: '8 h from now' }).click();
	await page.getByRole('button', { name: /Begin: / }).click();
	await page.getByRole('button', { name: 'I looked. All of it is so' }).click();
	const asked = page.locator('li.asked fieldset');
	while ((await asked.count()) > 0) {
		const part = asked.first();
		const name = (await part.locator('legend').innerText()).replace(/[⟦⟧]/g, '');
		const wanted = name === 'tip on probe' ? 'none' : /slot [12]/.test(name) ? 'holds its tip' : 'absent';
		const choice = part.locator('label').filter({ hasText: wanted });
		await ((await choice.count()) > 0 ? choice : part.locator('label')).first().click();
		await expect(page.locator('legend', { hasText: name })).toHaveCount(0);
	}
	await page.getByRole('button', { name: 'It is so. Begin' }).click();
	await page.waitForURL(/\/walk\//);
	await expect(page.locator('.dock').last()).toBeVisible();
}

export const editionOf = async (page: Page, id: string): Promise<Edition> => (await page.request.get(`/editions/${id}.json`)).json();

/** A value that the step would accept at once: no offset where there can be none, else the middle of what is usual. */
function goodValue({ plausible: [low, high], decimals }: ReadingSpec): string {
	return low <= 0 && high >= 0 ? '0' : ((low + high) / 2).toFixed(decimals);
}

export interface Walked {
	readonly steps: number;
	readonly undone: number;
	readonly troubles: number;
}

/** Walks on by one hand until the run has ended. Takes one step back at step `undoAt` and calls a trouble at `troubleAt`. */
export async function walkToTheEnd(page: Page, edition: Edition, hand: Hand, { undoAt, troubleAt, limit }: { undoAt: number; troubleAt: number; limit: number }): Promise<Walked> {
	const readings = new Map(Object.values(edition.steps).flatMap((step) => step.readings.map((reading) => [reading.name.en, reading] as const)));
	const now = page.locator('main');
	const dock = page.locator('.dock').last();
	const shown = async () => `${await now.innerText()} ${await page.locator('.dock').allInnerTexts()}`;
	let [undone, troubles] = [0, 0];
	for (let steps = 1; steps <= limit; steps++) {
		await page.clock.fastForward(PRESS_MS);
		const before = await shown();
		const words = await now.innerText();
		if (/visit is complete|visit was ended/.test(words)) return { steps, undone, troubles };
		if (steps === undoAt) {
			await hand.back(page);
			undone++;
		} else if (steps === troubleAt) {
			await hand.trouble(page);
			troubles++;
		} else if (await page.locator('.question').isVisible()) await hand.wayOn(page);
		else if (await page.locator('[data-scan="stay"]').isVisible()) {
			const name = (await dock.getByRole('button').first().innerText()).trim();
			const asked = readings.get(name);
			if (!asked) throw new Error(`no reading is called "${name}"`);
			await hand.number(page, goodValue(asked));
		} else if (await dock.getByRole('button', { name: 'Answer above' }).isVisible()) await hand.answer(page, 0);
		else await hand.wayOn(page);
		// what a press leads to is durable first and shown then: the next press must not look at the screen before
		for (let looks = 0; looks < 100 && (await shown()) === before; looks++) await page.waitForTimeout(30);
	}
	throw new Error(`not at an end after ${limit} presses; stands at: ${(await now.innerText()).slice(0, 300)}`);
}
