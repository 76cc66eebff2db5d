import { flushSync } from 'svelte';
import { describe, expect, it } from 'vitest';
import { nothingKept, usualLiftOut } from '$lib/metrology/keptCuts';
import { procedureWith, runWith } from '$lib/run/beam-times';
import { createCutting, loadCutting } from './cutting.svelte';

/** A settings store in memory that can be told to refuse. */
function store() {
	const values = new Map<string, unknown>();
	const made = { refuses: false, load: <T>(key: string) => Promise.resolve(values.get(key) as T | undefined), save: (key: string, value: unknown) => (made.refuses ? Promise.reject(new Error('full')) : Promise.resolve(void values.set(key, value))) };
	return made;
}

describe('CU cuts on this device', () => {
	it('CU1 every change is kept, and what was taken away can be brought back once', async () => {
		const settings = store();
		const cutting = createCutting(settings, await loadCutting(settings));
		expect(cutting.canUndo).toBe(false);
		cutting.begin('lift-out-visit', usualLiftOut);
		expect(cutting.canUndo).toBe(false);
		cutting.removeCut('usual-1');
		expect(cutting.kept.cuts).toHaveLength(usualLiftOut.length - 1);
		expect((await loadCutting(settings)).cuts).toHaveLength(usualLiftOut.length - 1);
		cutting.undo();
		expect((await loadCutting(settings)).cuts).toHaveLength(usualLiftOut.length);
		expect(cutting.canUndo).toBe(false);
	});
	it('CU2 tells where a change could not be kept', async () => {
		const settings = store();
		const cutting = createCutting(settings, nothingKept);
		settings.refuses = true;
		cutting.setBesides(30);
		await Promise.resolve();
		await Promise.resolve();
		flushSync();
		expect(cutting.fault).toBe('full');
	});
	it('CU3 its times go before the procedure’s in the forecast, and nothing else is touched', () => {
		const steps = [
			{ path: 'a/cut', stage: 'a', plannedMs: 1000 },
			{ path: 'a/look', stage: 'a', plannedMs: 2000 }
		];
		expect(procedureWith({ id: 'p', stages: [{ id: 'a' }], steps }, { 'a/cut': 5000 }).steps.map(({ plannedMs }) => plannedMs)).toEqual([5000, 2000]);
		const now = { operator: 'x', nowAtMs: 0, done: [], toCome: steps };
		expect(runWith(now, { 'a/cut': 5000, constructor: 1 }).toCome.map(({ plannedMs }) => plannedMs)).toEqual([5000, 2000]);
		expect(runWith(now, {}).toCome).toEqual(steps);
	});
});
