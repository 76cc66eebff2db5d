import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { isMoveName, moves } from '$lib/metrology/moves';
import { compileProcedure, type Compiled } from './compile';
import type { Edition, Step } from './edition';
import { indexOf } from './edition-index';
import { faultLine } from './fault';

const at = (name: string) => new URL(`../../../procedures/${name}`, import.meta.url);
const files = new Map(readdirSync(at('.')).filter((name) => name.endsWith('.yaml')).map((name) => [name, readFileSync(at(name), 'utf8')]));
const shipped = [...files].filter(([, text]) => /^procedure:/m.test(text)).map(([name, text]) => [name, compileProcedure(text, name, (file) => files.get(file))] as const);
const compiled = (name: string): Compiled => {
	const made = shipped.find(([file]) => file === name)?.[1];
	if (!made || 'faults' in made) throw new Error(`${name} does not compile`);
	return made;
};
const steps = (edition: Edition): Step[] => Object.values(edition.steps);

it('ships the visit, the exchange of a tip and the bench exercise', () =>
	expect(shipped.map(([name]) => name).sort()).toEqual(['bench-loading.yaml', 'exchange-tip.yaml', 'lift-out-visit.yaml']));

describe.each(shipped)('%s', (_, made) => {
	it('compiles without a fault', () => expect('faults' in made ? made.faults.map(faultLine) : []).toEqual([]));
	if ('faults' in made) return;
	const { edition, positions } = made;
	it('says every step in at most 20 words', () => expect(steps(edition).filter((step) => Object.values(step.words).some(({ full }) => full.split(/[.?!]\s+/).some((one) => one.split(/\s+/).length > 20))).map(({ path }) => path)).toEqual([]));
	it('names moves that exist and gives them what they need', () => {
		for (const { adjust, readings, path } of steps(edition)) {
			if (!adjust) continue;
			if (!isMoveName(adjust.move)) expect.fail(`${path}: no move "${adjust.move}"`);
			const move = moves[adjust.move];
			expect(Object.keys(move.readings), path).toEqual(expect.arrayContaining(Object.keys(adjust.from)));
			expect(readings.map(({ id }) => id).sort(), path).toEqual(Object.values(adjust.from).sort());
			const given = Object.fromEntries(Object.keys(adjust.from).map((input) => [input, { value: 1e-6 }]));
			expect(move.reckon(given, { columnAngleRad: 0.9, toleranceM: 1e-6 }), path).not.toHaveProperty('refused', expect.any(String));
		}
	});
	it('knows where each step, stage, part and trouble stands', () => {
		const keys = [...Object.keys(edition.steps), ...edition.stages.map(({ id }) => `stage:${id}`), ...edition.parts.map(({ id }) => `part:${id}`), ...edition.troubles.map(({ id }) => `trouble:${id}`)];
		expect(keys.filter((key) => !positions.has(key))).toEqual([]);
	});
	it('lets every reading from memory be told: plausible ranges lie within wider limits', () => {
		for (const { readings } of steps(edition))
			for (const { min, max, plausible } of readings) expect(min <= plausible[0] && plausible[1] < max).toBe(true);
	});
});

describe('the visit', () => {
	const { edition } = compiled('lift-out-visit.yaml');
	it('has the seven stages of a visit, and thinning as one that may be left out', () =>
		expect(edition.stages.map(({ id, optional }) => (optional ? `(${id})` : id))).toEqual(['load', 'transfer', 'pick-up', 'grid', 'lift-out', '(thin)', 'return', 'unload']));
	it('has a trouble for everything that can go wrong in the trade', () =>
		expect(edition.troubles.map(({ id }) => id)).toEqual(
			expect.arrayContaining([
				'emergency-stop', 'tip-sticks', 'tip-damaged', 'tip-dropped', 'grid-dropped', 'slot-not-empty', 'position-not-found', 'no-contact', 'weld-fails', 'lamella-stuck',
				'lamella-dropped', 'lamella-charging', 'pump-slow', 'beam-interrupted', 'gas-interrupted', 'power-cut', 'time-short'
			])
		));
	it('marks cuts and welds as final', () => {
		const cuts = steps(edition).filter(({ words }) => /^(cut|weld|thin|deposit|polish|clean both)\b/i.test(words.en?.full ?? ''));
		expect(cuts.length).toBeGreaterThanOrEqual(14);
		expect(cuts.filter(({ final }) => !final).map(({ path }) => path)).toEqual([]);
	});
	it('wants clean hands wherever tips, grid or specimen are handled at the bench', () => {
		const handled = steps(edition).filter(({ stage, words }) => stage === 'load' && /\b(grid|tip|carrier|stub|specimen)\b/i.test(words.en?.full ?? '') && !/log|probe/i.test(words.en?.full ?? ''));
		expect(handled.length).toBeGreaterThan(15);
		expect(handled.filter(({ hands }) => hands !== 'clean').map(({ path }) => path)).toEqual([]);
	});
});

it('the index puts the longest procedure first and tells what the app needs before it loads one', () => {
	const index = indexOf(shipped.flatMap(([, made]) => ('edition' in made ? [made] : [])));
	expect(index.map(({ id }) => id)).toEqual(['lift-out-visit', 'exchange-tip', 'bench-loading']);
	expect(index[0]?.hash).toBe(compiled('lift-out-visit.yaml').hash);
	expect(index[0]?.plannedMs).toBe(index[0]?.stages.reduce((sum, { plannedMs }) => sum + plannedMs, 0));
});
