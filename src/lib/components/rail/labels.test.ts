import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placeLabels, type Wish } from './labels';
import { textWidthPx } from './letter-widths';

const wish = (id: string, at: number, ...texts: string[]): Wish => ({ id, at, texts, stands: ['after', 'before'] });

describe('words along the rail', () => {
	it('takes the longest words that fit', () => {
		expect(placeLabels([wish('a', 0, 'Pick up a tip', 'Pick up')], 400, 20)[0]?.text).toBe('Pick up a tip');
		expect(placeLabels([wish('a', 0, 'Pick up a tip', 'Pick up')], 100, 20)[0]?.text).toBe('Pick up');
	});
	it('drops the less important of two that want the same place', () => {
		expect(placeLabels([wish('first', 0, 'Lift out'), wish('second', 5, 'Return')], 120, 20).map(({ id }) => id)).toEqual(['first']);
	});
	it('moves to the other side before it drops', () => {
		const placed = placeLabels([wish('right', 200, 'Unload'), wish('left', 198, 'Return')], 400, 20);
		expect(placed.map(({ id }) => id)).toEqual(['right', 'left']);
	});
	it('slides a word that may slide onto the rail', () => {
		const [now] = placeLabels([{ id: 'now', at: 398, texts: ['14:06'], stands: ['about'], slides: true }], 400, 20);
		expect(now && now.x + now.width).toBeCloseTo(400, 6);
	});
	it('shortens words to keep before it drops one of them', () => {
		const keep = [{ ...wish('stage', 0, 'Pick up a tip', 'Pick up'), keep: true }, { ...wish('latest', 290, 'Return by 16:28', 'by 16:28'), keep: true }];
		expect(placeLabels(keep, 300, 25).map(({ text }) => text)).toEqual(['Pick up', 'by 16:28']);
		expect(placeLabels(keep, 1200, 25).map(({ text }) => text)).toEqual(['Pick up a tip', 'Return by 16:28']);
	});
	it('never overlaps two words or leaves the rail, whatever is wished', () => {
		const anyWish = fc.record({
			at: fc.integer({ min: -50, max: 2000 }),
			texts: fc.array(fc.string({ unit: 'grapheme-ascii', minLength: 1, maxLength: 24 }), { minLength: 1, maxLength: 3 }),
			stands: fc.shuffledSubarray(['after', 'about', 'before'] as const, { minLength: 1 }),
			slides: fc.boolean(),
			keep: fc.boolean()
		});
		fc.assert(
			fc.property(fc.array(anyWish, { maxLength: 14 }), fc.integer({ min: 200, max: 1900 }), fc.integer({ min: 12, max: 80 }), (wishes, widthPx, letterPx) => {
				const placed = placeLabels(wishes.map((one, i) => ({ ...one, id: String(i) })), widthPx, letterPx).sort((a, b) => a.x - b.x);
				for (const [i, { text, x, width }] of placed.entries()) {
					expect(width).toBeCloseTo(textWidthPx(text, letterPx), 9);
					expect(x).toBeGreaterThanOrEqual(0);
					expect(x + width).toBeLessThanOrEqual(widthPx + 1e-9);
					const next = placed[i + 1];
					if (next) expect(next.x - (x + width)).toBeGreaterThanOrEqual(0.7 * letterPx - 1e-9);
				}
			}),
			{ seed: 11, numRuns: 400 }
		);
	});
});
