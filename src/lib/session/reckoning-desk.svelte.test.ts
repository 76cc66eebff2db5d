import { flushSync } from 'svelte';
import { describe, expect, it } from 'vitest';
import { reckonings, reckoningNamed } from '$lib/metrology/registry';
import { createDesk, type Desk, type KnownSettings } from './reckoning-desk.svelte';
import { sumText } from './sum-words';
import { inputLabel, outputLabel, reckoningGroups, reckoningTitle } from './reckoning-words';

const desk = (name: string, settings: KnownSettings = {}): Desk => {
	const reckoning = reckoningNamed(name);
	if (!reckoning) throw new Error(`no reckoning ${name}`);
	return createDesk(reckoning, () => settings);
};
const field = (at: Desk, name: string) => at.fields.find((each) => each.name === name);
const said = (at: Desk): string => (at.solved?.kind === 'solved' ? at.solved.words.map((words) => sumText(words)).join(' ') : '');
const press = (at: Desk, keys: string) => {
	for (const key of keys) at.key(key);
	flushSync();
};

describe('RD the desk of sums', () => {
	it('RD1 waits until everything is given, then says the move at once', () => {
		const at = desk('half-difference', { sign: '+' });
		expect(at.solved).toBeNull();
		at.type('gapLeft', '12.5 ± 0.5');
		expect(at.solved).toBeNull();
		at.type('gapRight', '8');
		expect(said(at)).toBe('Probe X right 2.25 µm, then look again.');
		expect(at.solved).toMatchObject({ results: { error: { uncertainty: expect.closeTo(0.25e-6, 9) } } });
	});
	it('RD2 keys go to the active field, make only numbers, and go on to the next that is open', () => {
		const at = desk('half-difference');
		press(at, '1.2.5-');
		expect(field(at, 'gapLeft')?.text).toBe('1.25');
		press(at, '±.5');
		expect(field(at, 'gapLeft')?.text).toBe('1.25 ± .5');
		at.key('correct');
		at.key('correct');
		at.key('correct');
		expect(field(at, 'gapLeft')?.text).toBe('1.25');
		at.key('send');
		expect(at.active).toBe('gapRight');
	});
	it('RD3 takes the minus only where values below 0 exist', () => {
		const at = desk('height-from-ion-shift');
		press(at, '30-');
		expect(field(at, 'shift')?.text).toBe('-30');
		at.key('-');
		expect(field(at, 'shift')?.text).toBe('30');
	});
	it('RD4 a setting stands in until another value is given; a default and what may be left out say so', () => {
		const at = desk('height-from-ion-shift', { columnAngle: (52 * Math.PI) / 180 });
		expect(field(at, 'columnAngle')?.from).toBe('setting');
		expect(field(at, 'electronOffset')?.from).toBe('default');
		expect(field(at, 'tolerance')?.from).toBe('left out');
		at.type('shift', '30');
		// published: 30 µm at 52° are 38.1 µm (check-values, derived)
		expect(at.solved).toMatchObject({ results: { error: { value: expect.closeTo(38.07e-6, 8) } } });
		at.type('columnAngle', '54');
		expect(at.solved).toMatchObject({ results: { error: { value: expect.closeTo(37.08e-6, 8) } } });
	});
	it.each([
		['12 furlong', 'left gap: “12 furlong” is not a quantity. Expected a number and µm, nm, mm, cm or m, with ± and a second number if it is uncertain.'],
		['abc', 'left gap: “abc” is not a quantity. Expected a number and µm, nm, mm, cm or m, with ± and a second number if it is uncertain.'],
		['9999', 'left gap: “9999” is out of range. Expected 0 µm to 5000 µm.'],
		['-3', 'left gap: “-3” is out of range. Expected 0 µm to 5000 µm.']
	])('RD5 tells bad input plainly and keeps it: %s', (text, fault) => {
		const at = desk('half-difference');
		at.type('gapLeft', text);
		at.type('gapRight', '8');
		expect(field(at, 'gapLeft')).toMatchObject({ fault, text });
		expect(at.solved).toBeNull();
	});
	it('RD6 takes a unit that was typed over the chosen one', () => {
		const at = desk('half-difference', { sign: '+' });
		at.setUnit('gapLeft', 'nm');
		at.type('gapLeft', '500');
		at.type('gapRight', '0.3 µm');
		expect(said(at)).toBe('Probe X right 100 nm, then look again.');
	});
	it('RD7 dragging writes three figures in the field’s unit and keeps the uncertainty', () => {
		const at = desk('half-difference');
		at.type('gapLeft', '10 ± 0.5');
		at.drag({ gapLeft: 12.3456e-6, gapRight: 99 });
		expect(field(at, 'gapLeft')?.text).toBe('12.3 ± 0.5');
		expect(field(at, 'gapRight')?.text).toBe('5000');
	});
	it('RD8 questions a move that is larger than the view instead of saying it', () => {
		const at = desk('height-from-ion-shift', { columnAngle: 0.9, viewHalf: 20e-6 });
		at.type('shift', '100');
		expect(at.solved?.kind === 'solved' && at.solved.questioned && sumText(at.solved.questioned)).toMatch(/more than half the view/);
	});
	it('RD9 refuses with the reason where the sum does not work', () => {
		const at = desk('z-on-tilt', { columnAngle: (52 * Math.PI) / 180 });
		at.type('shift', '30');
		at.type('tilt', '52');
		expect(at.solved).toMatchObject({ kind: 'refused', reason: { key: 'alongIonBeam' } });
	});
	it('RD10 takes corners line by line, says which line is none, and lets one be dragged', () => {
		const at = desk('time-polygon');
		at.type('corners', '0,0\n10,0\n10');
		expect(field(at, 'corners')?.fault).toBe('“10” is no corner. Expected two numbers with a comma between, as 10, 5.');
		at.type('corners', '0,0\n10,0\n10,5');
		at.dragCorner('corners', 2, { x: 12e-6 });
		expect(field(at, 'corners')?.text).toBe('0, 0\n10, 0\n12, 5');
	});
	it('RD11 every sum stands in one group, with a title; every input and result has a name', () => {
		expect(reckoningGroups.flatMap(({ names }) => names).toSorted()).toEqual(reckonings.map(({ name }) => name).toSorted());
		for (const { name, inputs, outputs } of reckonings) {
			expect(reckoningTitle(name)).not.toBe(name);
			for (const input of Object.keys(inputs)) expect(inputLabel(input, name), `${name} ${input}`).not.toMatch(/[a-z][A-Z]/);
			for (const output of Object.keys(outputs)) expect(outputLabel(output), `${name} ${output}`).not.toMatch(/[a-z][A-Z]/);
		}
	});
});
