import { describe, expect, it } from 'vitest';
import { parseQuantity, type Dimension } from '$lib/metrology/units';
import { rateSourceText } from '$lib/session/rate-words';
import { rateRow } from '$lib/metrology/rates';
import { reckoningNamed } from '$lib/metrology/registry';
import { solve, type Given } from '$lib/metrology/solve';
import { studentQuantile } from '$lib/metrology/student';

/** Cutting and depositing against numbers from outside the program; the source stands with each. */

function reckon(name: string, given: Record<string, string>) {
	const reckoning = reckoningNamed(name);
	if (!reckoning) throw new Error(`no reckoning "${name}"`);
	const asGiven = Object.fromEntries(
		Object.entries(given).map(([key, text]): [string, Given] => {
			const input = reckoning.inputs[key];
			if (input?.kind !== 'quantity') return [key, { choice: text }];
			const parsed = parseQuantity(text, input.dimension as Dimension);
			if ('wrong' in parsed) throw new Error(parsed.wrong.key);
			return [key, parsed];
		})
	);
	const solved = solve(reckoning, asGiven);
	if (solved.kind !== 'solved') throw new Error(JSON.stringify(solved));
	return { value: (key: string) => solved.results[key]!.value, words: solved.words };
}

describe('PC1 rate from a sputter yield, Y·M/(ρ·N_A·e)', () => {
	// derived: 1 atom of Si takes 28.0855 g/mol / (2.33 g/cm³ · 96485.33 C/mol) = 1.2493e-4 cm³/C = 0.1249 µm³/nC
	// factors of the other elements: derived the same way with densities 8.96, 19.3 and 2.70 g/cm³; given to three places
	it.each([
		['Si', '28.0855 g/mol', '2.33 g/cm³', 0.1249, 4],
		['Cu', '63.546 g/mol', '8.96 g/cm³', 0.074, 3],
		['W', '183.84 g/mol', '19.3 g/cm³', 0.099, 3],
		['Al', '26.9815 g/mol', '2.70 g/cm³', 0.104, 3],
		['Au', '196.9666 g/mol', '19.3 g/cm³', 0.106, 3]
	])('%s: %s, %s → %f µm³/nC per atom and ion', (_, molarMass, density, rate, places) => {
		expect(reckon('rate-from-yield', { yield: '1', molarMass, density }).value('rate') * 1e9).toBeCloseTo(rate, places);
	});
});

describe('PC2 the rates table holds what its sources say (µm³/nC, Ga⁺, 30 keV, normal incidence)', () => {
	// Liao, Practical Electron Microscopy and Database, online book, table 2455; Si 0.27 common practice, from memory
	it.each([
		['SiO2', 0.19],
		['Al', 0.37],
		['Au', 1.8],
		['Cr', 0.28],
		['Si3N4', 0.21]
	])('%s %f', (material, rate) => {
		expect(rateRow(material)!.rate * 1e9).toBeCloseTo(rate, 9);
		expect(rateSourceText(material)).toMatch(/Liao/);
	});
	it('Si 0.27 from memory, its range down to the 0.15 of Liao: they differ by 1.8', () => {
		const si = rateRow('Si')!;
		expect([si.least * 1e9, si.most * 1e9].map((rate) => rate.toFixed(2))).toEqual(['0.15', '0.27']);
		expect(si.most / si.least).toBeCloseTo(1.8, 9);
		expect(si.fromMemory).toBe(true);
	});
	it('every row says where it is from and lies within its own range', () => {
		for (const id of [
			'Si',
			'SiO2',
			'GaAs',
			'steel',
			'Cu',
			'W',
			'C',
			'Pt',
			'Pt-ion',
			'W-ion',
			'C-ion',
			'Pt-electron',
			'C-electron'
		]) {
			const row = rateRow(id)!;
			expect(rateSourceText(id).length).toBeGreaterThan(10);
			expect(row.least <= row.rate && row.rate <= row.most).toBe(true);
		}
	});
});

describe('PC3 beam times', () => {
	it('wedge trench 20 × 15 × 12.5 µm, Si 0.27 µm³/nC, 20 nA → 347 s (1875 µm³/5.4 µm³/s = 347.2; derived)', () => {
		const cut = { length: '20um', width: '15um', depth: '12.5um', current: '20nA' };
		expect(reckon('time-trench', { ...cut, rate: '0.27um3/nC' }).value('time')).toBeCloseTo(347.2, 1);
		const byTable = reckon('time-trench', { ...cut, material: 'Si' });
		expect(byTable.value('time')).toBeCloseTo(347.2, 1);
		// the slow end of the range: 347.2·1.8 = 625 s
		expect(byTable.value('timeMost')).toBeCloseTo(625, 0);
		expect(byTable.words.map(({ key }) => key)).toContain('rateFromMemory');
	});
	it('deposit 12 × 2 × 1.5 µm, 100 pA, 0.5 µm³/nC → 720 s; 4.2 pA/µm² (derived; the rate is memory)', () => {
		const size = { length: '12um', width: '2um', height: '1.5um' };
		const found = reckon('time-deposit', { ...size, current: '100pA', rate: '0.5um3/nC', material: 'Pt-ion' });
		expect(found.value('time')).toBeCloseTo(720, 6);
		expect(found.value('density')).toBeCloseTo(4.17, 2);
		expect(found.words.map(({ key }) => key)).toEqual(['beamTime']);
	});
	it('15 × 2 µm at 2–6 pA/µm² → 60–180 pA; 2 µm thick at 0.5 µm³/nC, 100 pA → 20 min (derived; both rates memory)', () => {
		const size = { length: '15um', width: '2um' };
		expect(reckon('current-for-density', { ...size, density: '2pA/um2' }).value('current') * 1e12).toBeCloseTo(60, 6);
		expect(reckon('current-for-density', { ...size, density: '6pA/um2' }).value('current') * 1e12).toBeCloseTo(180, 6);
		const time = reckon('time-deposit', { ...size, height: '2um', current: '100pA', rate: '0.5um3/nC' }).value('time');
		expect(time / 60).toBeCloseTo(20, 6);
	});
	it('above 6 pA/µm² a platinum deposit is warned of, below 2 as well (window: memory)', () => {
		const size = { length: '12um', width: '2um', height: '1.5um', material: 'Pt-ion' };
		expect(reckon('time-deposit', { ...size, current: '200pA' }).words.map(({ key }) => key)).toContain(
			'densityTooHigh'
		);
		expect(reckon('time-deposit', { ...size, current: '30pA' }).words.map(({ key }) => key)).toContain('densityTooLow');
	});
});

describe('PC4 Student’s t, needed for prediction intervals', () => {
	// two-sided 90 % and 95 % points from the usual printed tables (e.g. NIST/SEMATECH e-Handbook 1.3.6.7.2), three places; from memory
	it.each([
		[0.95, 1, 6.314],
		[0.95, 2, 2.92],
		[0.95, 4, 2.132],
		[0.95, 9, 1.833],
		[0.975, 5, 2.571],
		[0.975, 30, 2.042]
	])('p %f, %i degrees of freedom → %f', (p, freedom, t) => {
		expect(studentQuantile(p, freedom)).toBeCloseTo(t, 3);
		expect(studentQuantile(1 - p, freedom)).toBeCloseTo(-t, 3);
	});
});
