import { readFileSync } from 'node:fs';
import { render, screen, waitFor } from '@testing-library/svelte';
import { describe, expect, it } from 'vitest';
import { memoryStore } from '$lib/adapters/memory/memory-store';
import type { Lamella, Tip } from '$lib/metrology/ledger';
import { labelsOf } from '$lib/metrology/labels';
import { driftOf, type Stored } from '$lib/metrology/storedPositions';
import { compileProcedure } from '$lib/procedure/compile';
import { createPartsBook } from '$lib/session/parts-book.svelte';
import { drawDrift } from './drift-chart';
import LabelSheet from './LabelSheet.svelte';
import LamellaeTable from './LamellaeTable.svelte';
import PlaceDrift from './PlaceDrift.svelte';
import { drawQr } from './qr';
import TipsTable from './TipsTable.svelte';

const read = (name: string) => readFileSync(`procedures/${name}`, 'utf8');
const made = compileProcedure(read('lift-out-visit.yaml'), 'lift-out-visit.yaml', read);
if ('faults' in made) throw new Error('the shipped visit does not compile');
const { edition } = made;
const at = '2031-01-01T09:00:00.000+00:00';
const tip: Tip = { id: 'slot-1-0a1b2c3d-4', slot: 'slot-1', firstSeen: at, uses: [{ at, by: 'Ada (invented)', run: 'r' }], now: 'worn', since: at, by: 'Ada (invented)', retired: { at, by: 'Ada (invented)', answer: 'worn', step: 'return/tip/fared' } };
const lamella: Lamella = { run: '0a1b2c3d4e5f', sample: 'S-1', project: 'P', person: 'Ada (invented)', post: '3', course: [{ is: 'in-the-bulk', at, by: 'Ada' }, { is: 'on-the-grid', at, by: 'Ada' }], fared: 'on-the-grid', readings: [] };

describe('PA the ledger on screen', () => {
	it('PA1 tells a tip’s life, and why it was retired in the procedure’s own words', () => {
		render(TipsTable, { tips: [tip], edition });
		const row = screen.getByRole('row', { name: /slot-1-0a1b2c3d-4/ });
		expect(row.textContent).toMatch(/slot 1.*1.*worn, in its slot/s);
		const words = edition.steps['return/tip/fared']?.outcomes.find(({ id }) => id === 'worn')?.answer.en;
		expect(row.textContent).toContain(`${words}, `);
	});
	it('PA2 tells which post carries a lamella, and how it came there', () => {
		render(LamellaeTable, { lamellae: [lamella], editionOf: () => edition });
		expect(screen.getByRole('row', { name: /S-1/ }).textContent).toMatch(/post 3.*on the grid.*in the bulk → on the grid/s);
	});
	it('PA3 labels what can lie in a box: our own id in the code, and nothing lost', () => {
		const ledger = { tips: [tip, { ...tip, id: 'gone', now: 'lost' as const }], lamellae: [lamella, { ...lamella, run: 'ffffffffffff', fared: 'lost' }], where: {}, contradictions: [] };
		const labels = labelsOf(ledger);
		expect(labels.map(({ id }) => id)).toEqual(['tip:slot-1-0a1b2c3d-4', 'lamella:0a1b2c3d']);
		render(LabelSheet, { labels, edition });
		expect(screen.getByRole('img', { name: 'Code of lamella:0a1b2c3d' })).toBeTruthy();
		expect(screen.getByText('tip:slot-1-0a1b2c3d-4')).toBeTruthy();
	});
	it('PA4 a device without runs has read everything and knows no edition', async () => {
		const book = createPartsBook(memoryStore());
		await waitFor(() => expect(book.state).toBe('read'));
		expect(book).toMatchObject({ edition: null, of: 0, faults: [] });
	});
	it('PA5 a journal that can’t be read is named and left out, the others count', async () => {
		const listed = ['a', 'b'].map((run) => ({ run, count: 1, begunAt: at, lastAt: at, edition: 'x', title: 'x', person: 'Ada', step: '', ended: null, invented: false }));
		const book = createPartsBook({ list: () => Promise.resolve(listed), open: (run) => (run === 'a' ? Promise.reject(new Error('torn')) : Promise.resolve({ events: [], mended: [], fault: null })) });
		await waitFor(() => expect(book.state).toBe('read'));
		expect(book.faults).toEqual([{ begunAt: at, reason: 'torn' }]);
		expect(book.done).toBe(2);
	});
});

// ISO/IEC 18004 (from memory): three finder patterns of 7 × 7 in the corners, dark edge, light ring, dark 3 × 3 core; version 1 has 21 modules
describe('PA6 the code', () => {
	const { size, path } = drawQr('tip:slot-1');
	const dark = (x: number, y: number) => path.includes(`M${x + 4} ${y + 4}h1v1h-1z`);
	it('stands in a quiet zone of four modules', () => {
		expect(size).toBe(21 + 8);
		expect([...path.matchAll(/M(\d+) (\d+)/g)].every(([, x, y]) => Number(x) >= 4 && Number(y) >= 4 && Number(x) < size - 4 && Number(y) < size - 4)).toBe(true);
	});
	it.each([
		[0, 0],
		[14, 0],
		[0, 14]
	])('has a finder pattern at %i, %i', (x0, y0) => {
		for (let y = 0; y < 7; y++)
			for (let x = 0; x < 7; x++) {
				const ring = Math.max(Math.abs(x - 3), Math.abs(y - 3));
				expect(dark(x0 + x, y0 + y), `${x}, ${y}`).toBe(ring !== 2);
			}
	});
});

describe('PA7 a stored place', () => {
	const um = 1e-6;
	const visits = [100, 101, 99, 100, 102, 100, 140].map((x, i): Stored => ({ place: 'at-slot-1', run: `r${i}`, at, xM: x * um, yM: 0, zM: 5 * um }));
	it('shows each axis with its signal in words, and compares a return', async () => {
		render(PlaceDrift, { drift: driftOf('at-slot-1', visits), name: 'at slot 1', toleranceM: 5 * um });
		expect(screen.getByRole('heading', { name: 'at slot 1, visits: 7' })).toBeTruthy();
		expect(screen.getByRole('img', { name: /stage X.*outside what the visits before it give/ })).toBeTruthy();
		expect(screen.getByRole('img', { name: /stage Y.*within what the visits before it give/ })).toBeTruthy();
	});
	it('is drawn inside its field, whatever the values', () => {
		for (const list of [visits, visits.slice(0, 1), visits.map((one) => ({ ...one, xM: 1e-3 }))]) {
			const drawn = drawDrift(driftOf('at-slot-1', list).axes.x, 300, 100);
			for (const [x, y] of drawn.dots) {
				expect(x).toBeGreaterThanOrEqual(0);
				expect(x).toBeLessThanOrEqual(300);
				expect(y).toBeGreaterThanOrEqual(0);
				expect(y).toBeLessThanOrEqual(100);
			}
		}
	});
});
