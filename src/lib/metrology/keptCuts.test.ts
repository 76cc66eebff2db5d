import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { compileProcedure } from '$lib/procedure/compile';
import { type CutDraft, type CuttingKept, type MeasuredKept, nothingKept, planOf, rateOf, redepositionOf, stepTimesMs, usualLiftOut } from './keptCuts';

const um = 1e-6;
const trench: CutDraft = { id: '1', name: 'trench', step: 'lift-out/trench-1', stage: 'lift-out', shape: 'wedge', lengthM: 20 * um, widthM: 15 * um, depthM: 12.5 * um, currentA: 20e-9, material: 'Si', deep: false, times: 1 };
/** A cut of 10 × 10 × 1 µm at 1 nA that took as long as this rate (µm³/nC) asks. */
const measured = (rate: number, deep = false): MeasuredKept => ({ id: String(rate), shape: 'box', lengthM: 10 * um, widthM: 10 * um, depthM: um, currentA: 1e-9, material: 'Si', deep, timeS: 100 / rate, at: '2031-01-01T09:00:00.000+00:00', by: 'Ada (invented)' });
const kept = (more: Partial<CuttingKept>): CuttingKept => ({ ...nothingKept, edition: 'visit', ...more });

describe('KC cuts that are kept', () => {
	it('KC1 plans what is filled in, and names what is not', () => {
		const plan = planOf(kept({ cuts: [trench, { ...trench, id: '2', name: 'open', depthM: null }] }));
		// check-values: wedge trench 20 × 15 × 12.5 µm, Si 0.27, 20 nA: 347 s (derived)
		expect(plan.whole.beamS).toBeCloseTo(347.2, 1);
		expect(plan.leftOut).toEqual(['open']);
		expect(plan.uncalibrated).toEqual(['Si']);
	});
	it('KC2 own flat cuts replace the default in steps; deep ones do not count for the rate', () => {
		expect(rateOf('Si', [measured(0.2, true), measured(0.2, true)]).from).toBe('default');
		expect(rateOf('Si', [0.2, 0.21].map((rate) => measured(rate))).from).toBe('default and own cuts');
		const own = [0.2, 0.21, 0.19, 0.2, 0.2].map((rate) => measured(rate));
		expect(rateOf('Si', own).from).toBe('own cuts');
		expect(planOf(kept({ cuts: [trench], measured: own })).whole.beamS).toBeCloseTo((347.2 * 0.27) / 0.2, -1);
		expect(() => rateOf('cheese', [])).toThrow(/expected one of Si/);
	});
	it('KC3 redeposition is learned from deep cuts against flat ones, and is 1 until then', () => {
		expect(redepositionOf('Si', [measured(0.3), measured(0.3), measured(0.2, true)])).toBeNull();
		const both = [measured(0.3), measured(0.3), measured(0.2, true), measured(0.2, true)];
		expect(redepositionOf('Si', both)?.factor).toBeCloseTo(1.5, 9);
		const [flat, deep] = [false, true].map((deep) => planOf(kept({ cuts: [{ ...trench, deep }], measured: both })).whole.beamS);
		expect(deep! / flat!).toBeCloseTo(1.5, 9);
	});
	it('KC4 gives each step its time: beam, and what goes beside it, cut by cut', () => {
		const times = stepTimesMs(kept({ cuts: [trench, { ...trench, id: '2', times: 2 }], besidesS: 60 }), 'visit');
		expect(times['lift-out/trench-1']! / 1000).toBeCloseTo(3 * (347.2 + 60), 0);
		expect(stepTimesMs(kept({ cuts: [trench] }), 'another visit')).toEqual({});
	});
	it('KC5 a cut that was measured only in part is no measurement', () => {
		const parts: readonly MeasuredKept[] = [{ ...measured(0.2), timeS: null }, { ...measured(0.2), depthM: null }, measured(0.2)];
		expect(rateOf('Si', parts)).toMatchObject({ from: 'default', cuts: 1 });
	});
	it('KC6 the usual lift-out names steps of the shipped visit, and can be planned whole', () => {
		const read = (name: string) => readFileSync(`procedures/${name}`, 'utf8');
		const made = compileProcedure(read('lift-out-visit.yaml'), 'lift-out-visit.yaml', read);
		if ('faults' in made) throw new Error('the shipped visit does not compile');
		for (const { step, stage } of usualLiftOut) expect(made.edition.steps[step]?.stage, step).toBe(stage);
		expect(planOf(kept({ cuts: usualLiftOut })).leftOut).toEqual([]);
	});
});
