import { JSDOM } from 'jsdom';
import { describe, expect, it } from 'vitest';
import { verifyEd25519 } from '$lib/adapters/signer/verify-ed25519';
import { toHtml } from '$lib/record/html';
import { prove } from '$lib/record/prove';
import { journals } from './journals';

describe.each(journals())('X14 printable record of a run: %s', (_, journal) => {
	it('reads by an HTML parser as what people wrote, with headings, captions and row headings, and nothing that runs or loads', async () => {
		const text = toHtml(journal, await prove(journal, verifyEd25519));
		const { document } = new JSDOM(text).window;
		expect(document.querySelectorAll('h1')).toHaveLength(1);
		for (const table of document.querySelectorAll('table')) {
			expect(table.caption?.textContent).toBeTruthy();
			const width = table.tHead!.rows[0]!.cells.length;
			for (const row of table.tBodies[0]!.rows) {
				expect(row.cells).toHaveLength(width);
				expect(row.cells[0]!.scope).toBe('row');
			}
		}
		expect(document.querySelector('svg > title')?.textContent).toBe('The visit on the scale of time');
		expect(document.querySelectorAll('script, link, img, iframe, object, b, [onclick], [src], [href]')).toHaveLength(0);
		for (const event of journal.events)
			if (event.kind === 'note') {
				const wanted = event.data.text.replaceAll('\u0007', '');
				expect([...document.querySelectorAll('li')].some((item) => item.textContent!.includes(wanted))).toBe(true);
			}
		expect(toHtml(journal, await prove(journal, verifyEd25519))).toBe(text);
	});
	it('fits the rail: all within its box', () => {
		const { document } = new JSDOM(toHtml(journal, null, 'letter')).window;
		expect(document.querySelector('style')!.textContent).toContain('@page{size:letter');
		for (const rect of document.querySelectorAll('svg rect')) {
			const [x, width] = [Number(rect.getAttribute('x')), Number(rect.getAttribute('width'))];
			expect(x).toBeGreaterThanOrEqual(0);
			expect(x + width).toBeLessThanOrEqual(1000);
		}
	});
});
