import AxeBuilder from '@axe-core/playwright';
import { expect, type Page, test } from '@playwright/test';
import jsQR from 'jsqr';
import { begin, failOnErrors, PRESS_MS } from './visit';

/** The sums, the trial of signs, the ledger of parts and the plan of cuts, by hand and held against WCAG 2.2 AA by axe. */

async function accessible(page: Page): Promise<void> {
	await expect(page).toHaveTitle(/Handrail/);
	const { violations } = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']).analyze();
	expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(' ')).join('; ')}`)).toEqual([]);
}

/** Every code of the sheet as the browser paints it, read by another reader: what it says it holds, and what was read. */
async function codesRead(page: Page): Promise<readonly (readonly [id: string, read: string | undefined])[]> {
	const painted = await page.getByRole('img', { name: /^Code of / }).evaluateAll(async (codes) =>
		Promise.all(
			codes.map(async (code) => {
				const picture = new Image();
				picture.src = `data:image/svg+xml,${encodeURIComponent(new XMLSerializer().serializeToString(code))}`;
				picture.width = picture.height = 200;
				await picture.decode();
				const canvas = new OffscreenCanvas(200, 200);
				const paint = canvas.getContext('2d')!;
				paint.drawImage(picture, 0, 0, 200, 200);
				return { name: code.getAttribute('aria-label') ?? '', pixels: [...paint.getImageData(0, 0, 200, 200).data] };
			})
		)
	);
	expect(painted.length).toBeGreaterThan(1);
	return painted.map(({ name, pixels }) => [name.replace('Code of ', ''), jsQR(new Uint8ClampedArray(pixels), 200, 200)?.data] as const);
}

test('a sum by keys and by dragging, questioned and refused in words', async ({ page }) => {
	failOnErrors(page);
	await page.goto('/reckon');
	await accessible(page);
	await page.getByRole('link', { name: /Centre the jaws/ }).click();
	for (const key of ['1', '2', 'next', '8']) await page.getByRole('button', { name: key, exact: true }).click();
	await expect(page.getByText(/^Probe X by 2 µm/)).toBeVisible();
	// a key of the keypad is 20 mm at least
	const { width, height } = (await page.getByRole('button', { name: '5', exact: true }).boundingBox()) ?? { width: 0, height: 0 };
	expect(Math.min(width, height)).toBeGreaterThanOrEqual((20 * 96) / 25.4 - 0.5);
	await accessible(page);
	const jaw = page.getByRole('slider', { name: 'Move the right jaw' });
	const box = (await jaw.boundingBox()) ?? { x: 0, y: 0, width: 0, height: 0 };
	const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
	await page.mouse.move(x, y);
	await page.mouse.down();
	await page.mouse.move(x + 20, y, { steps: 4 });
	await page.mouse.up();
	const dragged = Number((await page.getByRole('textbox', { name: 'right gap' }).inputValue()).split(' ')[0]);
	expect(dragged).toBeGreaterThan(8);
	await page.getByText('Instrument and limits').click();
	await page.getByRole('textbox', { name: 'largest move allowed' }).fill('0.1');
	await expect(page.getByText(/more than the limit set for it/)).toBeVisible();
	await page.goto('/reckon/z-on-tilt');
	await page.getByRole('textbox', { name: /^above/ }).fill('30');
	await page.getByRole('textbox', { name: /^tilt, \+ towards/ }).fill('52');
	await page.getByRole('textbox', { name: 'column angle' }).fill('52');
	await expect(page.getByText(/runs along the ion beam/)).toBeVisible();
	await accessible(page);
});

test('the signs are tried by keyboard, kept, and used by the sums', async ({ page }) => {
	failOnErrors(page);
	await page.goto('/instrument/signs');
	await accessible(page);
	await page.getByRole('button', { name: /Begin/ }).click();
	await expect(page.getByText('Move stage X by +6 µm.')).toBeVisible();
	await accessible(page);
	for (const key of ['1', '2', '3', '1', '1', '1', '1', '1']) await page.keyboard.press(key);
	await expect(page.getByRole('heading', { name: 'These signs were seen' })).toBeVisible();
	await accessible(page);
	await page.getByRole('button', { name: 'Keep these signs' }).click();
	await expect(page.getByRole('row', { name: /stage Y/ })).toContainText('down in the electron view');
	await page.getByLabel('Angle between the columns').fill('52');
	await page.getByLabel('Angle between the columns').press('Tab');
	await page.getByLabel('Largest single move').fill('-3');
	await page.getByLabel('Largest single move').press('Tab');
	await expect(page.getByRole('alert')).toContainText('Expected a number from 0.1 to 5000 µm. Not kept.');
	await accessible(page);
	await page.goto('/reckon/height-from-ion-shift');
	await page.getByRole('textbox', { name: /^above/ }).fill('30 ± 0.5');
	await expect(page.getByText('Stage Z down 38.1 µm, then look again.')).toBeVisible();
});

test('the ledger of an invented history: parts, labels, positions', async ({ page }) => {
	test.setTimeout(240_000);
	failOnErrors(page);
	await page.goto('/parts');
	await expect(page.getByText('No run has been walked on this device yet.')).toBeVisible();
	await accessible(page);
	await page.goto('/runs');
	await page.getByRole('button', { name: 'Bring in the invented history' }).click();
	await page.getByText(/Making invented runs: ([6-9]|\d\d) of/).waitFor({ timeout: 120_000 });
	await page.getByRole('button', { name: 'Stop here' }).click();
	await page.getByText(/runs here are invented/).waitFor({ timeout: 120_000 });
	await page.goto('/parts');
	await expect(page.getByText('These runs are invented, for the demo.')).toBeVisible({ timeout: 60_000 });
	await expect(page.getByRole('row', { name: /tip on probe/ })).toBeVisible();
	await expect(page.getByRole('region', { name: 'Tips' }).getByRole('row')).not.toHaveCount(0);
	await accessible(page);
	await page.getByRole('link', { name: 'Labels for boxes' }).click();
	await expect(page.getByRole('img', { name: /^Code of tip:slot-/ }).first()).toBeVisible({ timeout: 60_000 });
	for (const [id, read] of await codesRead(page)) expect(read).toBe(id);
	await accessible(page);
	await page.goto('/parts/positions');
	await expect(page.getByRole('heading', { name: /at slot \d, visits/ }).first()).toBeVisible({ timeout: 60_000 });
	await accessible(page);
});

test('a plan of cuts gives times, and own cuts replace the default', async ({ page }) => {
	failOnErrors(page);
	await page.goto('/cuts');
	await accessible(page);
	await page.getByRole('button', { name: 'Begin with a usual lift-out' }).click();
	await expect(page.getByText(/of beam altogether/)).toBeVisible();
	for (let i = 0; i < 5; i++) {
		await page.getByRole('button', { name: 'Add a measured cut' }).click();
		const cut = page.locator('.measured').nth(i);
		for (const [label, value] of [['Length', '10'], ['Width', '10'], ['Depth or height', '1'], ['Beam current', '1'], ['Beam time', String(480 + 10 * i)]] as const) {
			await cut.getByLabel(label, { exact: true }).fill(value);
			await cut.getByLabel(label, { exact: true }).press('Tab');
		}
		await cut.getByLabel('Material or deposit').selectOption('Si');
	}
	await expect(page.getByText('Own cuts alone are in use (own cuts: 5).')).toBeVisible();
	await accessible(page);
	await page.reload();
	await expect(page.getByText('Own cuts alone are in use (own cuts: 5).')).toBeVisible();
	await page.goto('/reckon/time-trench');
	await page.getByLabel('material', { exact: true }).selectOption('Si');
	await expect(page.getByText('0.2 µm³/nC, from the settings')).toBeVisible();
});

test('a reading of an adjust step is dragged on the drawing, by arrow keys and by a finger, echoed and confirmed', async ({ page }) => {
	failOnErrors(page);
	test.setTimeout(300_000);
	await begin(page, 'A whole lift-out visit');
	const drag = page.getByRole('button', { name: 'Drag it on the drawing' });
	for (let press = 0; press < 80 && !(await drag.isVisible()); press++) {
		await page.clock.fastForward(PRESS_MS);
		if (await page.getByRole('group', { name: 'Number keys' }).isVisible()) await page.keyboard.press('1');
		else if (await page.getByRole('button', { name: 'Answer above' }).isVisible()) {
			await page.keyboard.press('1');
			continue;
		}
		await page.keyboard.press('Enter');
	}
	await drag.click();
	const point = page.getByRole('slider').first();
	await expect(point).toBeFocused();
	const { width = 0, height = 0 } = (await point.boundingBox()) ?? {};
	expect(Math.min(width, height)).toBeGreaterThanOrEqual((20 * 96) / 25.4 - 0.5);
	await page.keyboard.press('Shift+ArrowUp');
	const value = page.locator('.drag .value b');
	await expect(value).toHaveText(/^\d+(\.\d+)? µm$/);
	const byKeys = await value.textContent();
	const box = (await point.boundingBox()) ?? { x: 0, y: 0, width: 0, height: 0 };
	const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
	await page.mouse.move(x, y);
	await page.mouse.down();
	await page.mouse.move(x, y - 12, { steps: 3 });
	await page.mouse.up();
	await expect(value).not.toHaveText(byKeys ?? '');
	const dragged = ((await value.textContent()) ?? '').replace(' µm', '');
	await accessible(page);
	await page.clock.fastForward(PRESS_MS);
	await page.keyboard.press('Enter');
	await expect(page.getByText(`${dragged} µm. Right?`)).toBeVisible();
	await page.clock.fastForward(PRESS_MS);
	await page.keyboard.press('Enter');
	await expect(page.getByText(/then look again|Within tolerance/i).first()).toBeVisible();
});
