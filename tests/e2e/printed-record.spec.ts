import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, test } from '@playwright/test';

const folder = mkdtempSync(join(tmpdir(), 'printed-'));
const journal = 'tests/golden/every-kind.journal.jsonl';
/** Debian's poppler-utils; where it is absent the words on each page are not looked at, and the test says so. */
const canRead = spawnSync('pdftotext', ['-v']).error === undefined;
if (!canRead) console.warn('pdftotext is not installed: page numbers and the hash on each page are not read back');

for (const [paper, box] of [['A4', /MediaBox \[0 0 59[45](\.\d+)? 84[12](\.\d+)?\]/], ['letter', /MediaBox \[0 0 612 792\]/]] as const)
	test(`X14 Chromium prints the record on ${paper}: tagged, page x of y, head hash on each page`, async ({ page }) => {
		const [html, pdf] = [join(folder, `${paper}.html`), join(folder, `${paper}.pdf`)];
		execFileSync('node', ['build/cli/handrail.js', 'export', journal, '--as', 'html', '--paper', paper, '-o', html]);
		await page.goto(pathToFileURL(html).href);
		const bytes = await page.pdf({ preferCSSPageSize: true, tagged: true });
		writeFileSync(pdf, bytes);
		const text = bytes.toString('latin1');
		expect(text).toMatch(/\/StructTreeRoot/);
		expect(text).toMatch(/\/Marked true/);
		expect(text).toMatch(box);
		if (!canRead) return;
		const pages = execFileSync('pdftotext', ['-layout', pdf, '-'], { encoding: 'utf8' }).split('\f').slice(0, -1);
		expect(pages.length).toBeGreaterThan(1);
		const { hash } = JSON.parse(readFileSync(journal, 'utf8').trimEnd().split('\n').at(-1)!) as { hash: string };
		pages.forEach((words, i) => {
			expect(words).toContain(`Page ${i + 1} of ${pages.length}`);
			expect(words).toContain(hash);
		});
	});

test('X14 the record is legible on a phone: nothing runs out of the page', async ({ page }) => {
	const html = join(folder, 'phone.html');
	execFileSync('node', ['build/cli/handrail.js', 'export', journal, '--as', 'html', '-o', html]);
	await page.setViewportSize({ width: 390, height: 844 });
	await page.goto(pathToFileURL(html).href);
	expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
});
