import { describe, expect, it } from 'vitest';
import { calibrate, learnRedeposition, predictTimeS, rateInUse, type MeasuredCut } from './calibration';
import { planCuts, type PlannedCut } from './plan';
import { rateRow } from './rates';

const um = 1e-6;
const si = rateRow('Si')!;
/** A cut of 10 × 10 × 1 µm at 1 nA at a rate given in µm³/nC. */
const cutAt = (rate: number): MeasuredCut => ({ volumeM3: 100e-18, currentA: 1e-9, timeS: 100 / rate });

describe('a plan of cuts', () => {
	const trench: PlannedCut = {
		name: 'trench',
		stage: 'trenches',
		shape: { kind: 'wedge', lengthM: 20 * um, widthM: 15 * um, depthM: 12.5 * um },
		currentA: 20e-9,
		rate: 'Si',
		redeposition: 1,
		times: 2
	};
	it('PL1 adds beam times by stage, and says which rates are not calibrated', () => {
		const cap: PlannedCut = {
			...trench,
			name: 'cap',
			stage: 'cap',
			shape: { kind: 'box', lengthM: 12 * um, widthM: 2 * um, depthM: 1.5 * um },
			currentA: 100e-12,
			rate: 'Pt',
			times: 1
		};
		const plan = planCuts([trench, cap], { Si: rateInUse(si, []), Pt: rateInUse(rateRow('Pt-ion')!, []) });
		expect(plan.stages['trenches']!.beamS).toBeCloseTo(2 * 347.22, 1);
		expect(plan.stages['cap']!.beamS).toBeCloseTo(720, 6);
		expect(plan.whole.beamS).toBeCloseTo(1414.4, 1);
		expect(plan.uncalibrated).toEqual(['Si', 'Pt']);
	});
	it('PL2 cuts of one rate share its error, cuts of different rates do not', () => {
		const one = planCuts([trench, trench], { Si: rateInUse(si, []) });
		expect(one.whole.uncertaintyS).toBeCloseTo(2 * one.cuts[0]!.uncertaintyS, 9);
		const two = planCuts([trench, { ...trench, rate: 'other' }], { Si: rateInUse(si, []), other: rateInUse(si, []) });
		expect(two.whole.uncertaintyS).toBeCloseTo(Math.SQRT2 * two.cuts[0]!.uncertaintyS, 9);
	});
	it('PL3 names a rate it does not know', () => {
		expect(() => planCuts([trench], {})).toThrow(/names the rate "Si"/);
	});
});

describe('own cuts', () => {
	it('PL4 the default gives way in steps: default, mixed, own', () => {
		const cuts = [0.2, 0.21, 0.19, 0.2, 0.22].map(cutAt);
		expect(rateInUse(si, cuts.slice(0, 1))).toMatchObject({ from: 'default', cutsToNext: 1, rate: si.rate });
		const mixed = rateInUse(si, cuts.slice(0, 3));
		expect(mixed).toMatchObject({ from: 'default and own cuts', cutsToNext: 2, disagrees: false });
		expect(mixed.rate).toBeGreaterThan(0.19e-9);
		expect(mixed.rate).toBeLessThan(si.rate);
		const own = rateInUse(si, cuts);
		expect(own).toMatchObject({ from: 'own cuts', cutsToNext: 0, fromMemory: false });
		expect(own.rate).toBeCloseTo(calibrate(cuts).rate, 15);
	});
	it('PL5 tells when own cuts lie outside the default’s range', () => {
		expect(rateInUse(si, [0.5, 0.5, 0.52].map(cutAt)).disagrees).toBe(true);
	});
	it('PL6 a prediction has the textbook interval', () => {
		// quotients 1, 2, 3 (in units of 1e9 C/m³): mean 2, s 1, t(0.95; 2) = 2.920 (printed table): 2.92·√(4/3) = 3.372
		const cuts = [1, 2, 3].map((q) => ({ volumeM3: 1e-18, currentA: 1e-9, timeS: q }));
		const { timeS, interval } = predictTimeS(calibrate(cuts), 2e-18, 1e-9);
		expect(timeS).toBeCloseTo(4, 9);
		expect(interval.most).toBeCloseTo(2 * (2 + 3.372), 2);
		expect(interval.least).toBe(0);
	});
	it('PL7 redeposition is the ratio of two calibrations', () => {
		const { factor, uncertainty } = learnRedeposition(
			calibrate([0.3, 0.3].map(cutAt)),
			calibrate([0.2, 0.2].map(cutAt))
		);
		expect(factor).toBeCloseTo(1.5, 9);
		expect(uncertainty).toBeCloseTo(0, 9);
	});
	it('PL8 refuses what is no measurement', () => {
		expect(() => calibrate([cutAt(0.2)])).toThrow(/at least 2/);
		expect(() => calibrate([cutAt(0.2), { ...cutAt(0.2), timeS: 0 }])).toThrow(/time of cut 2/);
	});
});
