import { expect, test } from '@playwright/test';
import { begin, failOnErrors } from './visit';

/** The picker itself needs a person: in its place stands a file of the browser's own file system, which has the same handle. */
test('a run is appended behind what stands in the one log file, once', async ({ page }) => {
	failOnErrors(page);
	await page.addInitScript(() => {
		const file = async () => (await navigator.storage.getDirectory()).getFileHandle('session-log.md', { create: true });
		Object.assign(window, { showSaveFilePicker: file, logText: async () => (await (await file()).getFile()).text() });
	});
	const logText = () => page.evaluate(() => (window as unknown as { logText(): Promise<string> }).logText());
	await page.goto('/');
	await page.evaluate(async () => {
		const handle = await (window as unknown as { showSaveFilePicker(): Promise<FileSystemFileHandle> }).showSaveFilePicker();
		const writable = await handle.createWritable();
		await writable.write('# Log of an invented instrument\n\nKept by hand until now.');
		await writable.close();
	});
	await begin(page, 'Loading at the bench, an exercise');
	const run = page.url().split('/').pop();
	await page.goto(`/timeline/${run}`);
	await page.getByRole('button', { name: 'Append to a log file' }).click();
	await expect(page.getByText('Appended to “session-log.md”.')).toBeVisible();
	const once = await logText();
	expect(once).toMatch(/^# Log of an invented instrument\n\nKept by hand until now\.\n\n## /);
	expect(once).toContain(run);

	await page.reload();
	await page.getByRole('button', { name: 'Append to “session-log.md”' }).click();
	await expect(page.getByText('This run stands in “session-log.md” already.')).toBeVisible();
	expect(await logText()).toBe(once);

	await page.goto('/settings');
	await page.getByRole('button', { name: 'Forget the file' }).click();
	await expect(page.getByText('No file chosen yet.')).toBeVisible();
});
