import { describe, expect, it } from 'vitest';
import { slotsAlt, slotsShown, slotsSpec } from './holder-slots';
import { gapsPx, jawsAlt, jawsSpec, moveToDraw } from './jaws-and-shank';
import { readParameters, type Given } from './parameters';
import { lamellaAlt, lamellaShown, lamellaSpec } from './post-and-lamella';
import { placeInView, twoViewsAlt, twoViewsSpec } from './two-views';

const jaws = (given: Given) => readParameters(jawsSpec, given).values;

describe('reading a drawing’s parameters', () => {
	it('takes a number in the parameter’s own unit, or any length with its unit, into metres', () => {
		expect(jaws({ gapLeft: 1.2, gapRight: { value: 348, unit: 'nm' } }).numbers).toMatchObject({ gapLeft: expect.closeTo(1.2e-6, 12), gapRight: expect.closeTo(348e-9, 12) });
	});
	it('keeps apart what is not known and what is about to be read', () => {
		const read = readParameters(jawsSpec, { gapLeft: null });
		expect(read.faults).toEqual([]);
		expect(read.values.awaited).toEqual(['gapLeft']);
		expect(read.values.numbers.gapLeft).toBeUndefined();
	});
	it('says every fault in a sentence and draws the rest', () => {
		const { values, faults } = readParameters(jawsSpec, { gapLeft: 5001, gapRight: { value: 1, unit: 'furlong' }, wide: 3, view: 'side', tolerance: 0.1 });
		expect(faults).toEqual([
			'“wide” is no parameter of this drawing. Known: gapLeft, gapRight, tolerance, jaws, view, mover, goesBy.',
			'“gapLeft” is 5001; expected a number from 0 to 5000 µm.',
			'“gapRight” is given in furlong; expected µm.',
			'“view” is side; expected one of electron, ion.'
		]);
		expect(values.numbers.tolerance).toBeCloseTo(1e-7, 12);
	});
	it('knows conditions as procedures spell them, with blanks or hyphens', () => {
		const { values, faults } = readParameters(lamellaSpec, { lamella: 'bulk-and-tip', probe: 'in' });
		expect(faults).toEqual([]);
		expect(values.choices.lamella).toBe('bulk and tip');
	});
});

describe('jaws and shank', () => {
	it('draws both gaps to one scale', () => {
		const { left, right } = gapsPx(jaws({ gapLeft: 0.348, gapRight: 0.696 }), 100);
		expect(right).toBeCloseTo(100, 9);
		expect(left).toBeCloseTo(50, 9);
	});
	// left − d = right + d (derived): jaws go right where the left gap is the larger
	it('draws the move that makes both equal, and none within tolerance', () => {
		expect(moveToDraw(jaws({ gapLeft: 0.712, gapRight: 0.348 }))).toBeCloseTo(182e-9, 12);
		expect(moveToDraw(jaws({ gapLeft: 0.712, gapRight: 0.348, tolerance: 0.2 }))).toBeNull();
		expect(moveToDraw(jaws({ gapLeft: 0.712 }))).toBeNull();
	});
	it('is told in words', () => {
		expect(jawsAlt(jaws({}))).toBe('The jaws stand open around the shank.');
		expect(jawsAlt(jaws({ gapLeft: 0.348, gapRight: null }))).toBe('Jaws around the shank. Left gap: 348 nm. Right gap: not measured.');
		expect(jawsAlt(jaws({ gapLeft: 0.348, gapRight: 0.712 }))).toContain('Jaws 182 nm left would make both gaps equal.');
		expect(jawsAlt(jaws({ jaws: 'closed' }))).toBe('The jaws hold the shank.');
	});
});

describe('two views', () => {
	it('places an offset to the scale of the view, and holds what lies outside just inside its edge', () => {
		expect(placeInView(30e-6, 60e-6)).toBeCloseTo(0.25, 9);
		expect(placeInView(-1e-3, 60e-6)).toBe(-0.44);
		expect(placeInView(undefined, 60e-6)).toBe(0);
	});
	it('is told in words', () => {
		const { values } = readParameters(twoViewsSpec, { feature: 'shank', electronX: 12, electronY: -4, ionY: 0 });
		expect(twoViewsAlt(values)).toBe('Electron view: taper 12 µm right, 4 µm down. Ion view: taper centred.');
	});
});

describe('holder with slots', () => {
	const { values } = readParameters(slotsSpec, { slot1: 'holds', slot2: 'empty', slot3: 'absent', slot5: 'unknown', chosen: 2, seen: 2 });
	it('shows as many slots as are known, four at least, and none that the holder lacks', () => {
		expect(slotsShown(values).map(({ number, condition }) => `${number} ${condition}`)).toEqual(['1 tip', '2 empty', '4 unknown', '5 unknown']);
		expect(slotsShown(readParameters(slotsSpec, {}).values)).toHaveLength(4);
	});
	it('is told in words, the chosen slot and those that can’t be seen named', () => {
		expect(slotsAlt(values)).toBe('Holder with 4 slots. Slot 1: tip. Slot 2, the chosen one: empty. Slot 4: not known, can’t be seen in the chamber. Slot 5: not known, can’t be seen in the chamber.');
	});
});

describe('post and lamella', () => {
	const shown = (lamella: string) => lamellaShown(readParameters(lamellaSpec, { lamella }).values);
	it('keeps the order of the work: strap, then trenches, then the cut beneath', () => {
		expect(['bulk', 'strapped', 'trenched', 'undercut'].map((at) => [shown(at).strap, shown(at).trench, shown(at).undercut])).toEqual([
			[false, false, false],
			[true, false, false],
			[true, true, false],
			[true, true, true]
		]);
	});
	it('shows the needle wherever the lamella hangs on it', () => {
		expect(['undercut', 'bulk-and-tip', 'on-the-tip', 'tip-and-post', 'on-the-grid'].map((at) => shown(at).probeIn)).toEqual([false, true, true, true, false]);
	});
	it('is told in words', () => {
		expect(lamellaAlt(readParameters(lamellaSpec, { lamella: 'on the grid', gas: 'in' }).values)).toBe('The lamella is on the post. The gas needle is in.');
		expect(lamellaAlt(readParameters(lamellaSpec, {}).values)).toBe('Where the lamella is, is not known.');
	});
});
