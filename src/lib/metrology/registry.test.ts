import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Input, Point, Reckoning } from './reckoning';
import { reckoningNamed, reckonings } from './registry';
import { solve, type Given, type Solved } from './solve';
import { acceptedUnits, unitFactor } from './units';
import { inputLabel } from '$lib/session/reckoning-words';
import { formulaText, inputSourceText, sourceText } from '$lib/session/sum-sources';
import { sumText } from '$lib/session/sum-words';

const um = 1e-6;
const runs = { seed: 6000, numRuns: 200 };

/** Any value that the input allows, its ends included. */
function arbitrary(input: Input): fc.Arbitrary<Given> {
	if (input.kind === 'choice') return fc.constantFrom(...input.options).map((choice) => ({ choice }));
	if (input.kind === 'points') {
		const coordinate = fc.double({ min: -input.max, max: input.max, noNaN: true });
		const point = fc.tuple(coordinate, coordinate) as fc.Arbitrary<Point>;
		return fc.array(point, { minLength: input.least, maxLength: input.most }).map((points) => ({ points }));
	}
	const { min, max } = input;
	const linear = fc.double({ min, max, noNaN: true });
	const values =
		min > 0
			? fc.oneof(
					linear,
					fc
						.double({ min: Math.log(min), max: Math.log(max), noNaN: true })
						.map((log) => Math.min(max, Math.max(min, Math.exp(log))))
				)
			: linear;
	const spread = fc.oneof(fc.constant(0), fc.double({ min: 0, max: 0.5, noNaN: true }));
	return fc
		.tuple(fc.oneof(values, fc.constantFrom(min, max)), spread)
		.map(([value, share]) => ({ value, uncertainty: share * Math.abs(value) }));
}

const question = (reckoning: Reckoning): fc.Arbitrary<Record<string, Given>> =>
	fc.record(
		Object.fromEntries(Object.entries(reckoning.inputs).map(([name, input]) => [name, arbitrary(input)]))
	) as fc.Arbitrary<Record<string, Given>>;

function solved(name: string, given: Record<string, Given>): Solved {
	const found = solve(reckoningNamed(name)!, given);
	if (found.kind !== 'solved') throw new Error(JSON.stringify(found));
	return found;
}

const value = (name: string, output: string, given: Record<string, Given>): number =>
	solved(name, given).results[output]!.value;

describe.each(reckonings.map((reckoning) => [reckoning.name, reckoning] as const))('%s', (_, reckoning) => {
	it('MR1 gives numbers or a reason over the whole allowed range, never NaN', () => {
		fc.assert(
			fc.property(question(reckoning), (given) => {
				const found = solve(reckoning, given);
				if (found.kind === 'bad input') throw new Error(found.faults.map((words) => sumText(words)).join('; '));
				if (found.kind === 'refused') {
					expect(sumText(found.reason)).toMatch(/\S{2,} \S{2,}/);
					return;
				}
				for (const { value, uncertainty, interval } of Object.values(found.results)) {
					expect(Number.isFinite(value)).toBe(true);
					if (typeof uncertainty === 'number') expect(uncertainty >= 0 && Number.isFinite(uncertainty)).toBe(true);
					if (interval) expect(interval[0] <= interval[1] && interval.every(Number.isFinite)).toBe(true);
				}
				for (const words of found.words) expect(sumText(words)).not.toMatch(/NaN|undefined|Infinity|\{/);
			}),
			{ ...runs, numRuns: 120 }
		);
	});
	it('MR2 refuses what is out of range instead of moving it to the edge, naming input and range', () => {
		fc.assert(
			fc.property(question(reckoning), fc.nat(), fc.boolean(), (given, nth, above) => {
				const quantities = Object.entries(reckoning.inputs).filter(([, input]) => input.kind === 'quantity');
				const [name, input] = quantities[nth % quantities.length]!;
				if (input.kind !== 'quantity') return;
				const span = input.max - input.min;
				const found = solve(reckoning, {
					...given,
					[name]: { value: above ? input.max + 0.01 * span : input.min - 0.01 * span }
				});
				expect(found.kind).toBe('bad input');
				if (found.kind === 'bad input') expect(found.faults).toContainEqual(expect.objectContaining({ key: 'outOfRange', parameters: expect.objectContaining({ input: name }) }));
			}),
			runs
		);
	});
	it('MR3 says what is missing, and knows no inputs but its own', () => {
		const found = solve(reckoning, { nonsense: { value: 1 } });
		expect(found.kind).toBe('bad input');
		if (found.kind !== 'bad input') return;
		expect(found.faults[0]).toMatchObject({ key: 'noSuchInput', parameters: { input: 'nonsense', sum: reckoning.name } });
		for (const [name, input] of Object.entries(reckoning.inputs))
			if (!('optional' in input) && !('default' in input && input.default !== undefined))
				expect(found.faults.map((words) => sumText(words, (each) => each)).join()).toContain(`“${name}” is missing`);
	});
	it('MR4 declares every input and output with a unit that is accepted and a source', () => {
		expect(formulaText(reckoning.name)).toContain('=');
		expect(sourceText(reckoning.name)).toMatch(/^derived/);
		for (const [name, input] of Object.entries(reckoning.inputs)) {
			expect(inputSourceText(input.source).length).toBeGreaterThan(3);
			expect(inputLabel(name, reckoning.name)).not.toBe('');
			if (input.kind === 'quantity') {
				expect(acceptedUnits(input.dimension)).toContain(input.usual);
				expect(input.min).toBeLessThan(input.max);
			}
		}
		for (const { dimension, usual } of Object.values(reckoning.outputs))
			expect(unitFactor(dimension, usual)).toBeDefined();
	});
});

const length = (reach: number) => fc.double({ min: -reach, max: reach, noNaN: true });
const angle = (least: number, most: number) =>
	fc.double({ min: (least * Math.PI) / 180, max: (most * Math.PI) / 180, noNaN: true });
const positive = fc.double({ min: 0.1 * um, max: 100 * um, noNaN: true });

describe('round trips', () => {
	it('MR5 the height found from the ion view is the one that was there', () => {
		fc.assert(
			fc.property(length(1e-3), length(1e-3), angle(5, 85), (dy, dz, theta) => {
				const columnAngle = { value: theta };
				const shift = value('ion-shift', 'shift', { dy: { value: dy }, dz: { value: dz }, columnAngle });
				const height = value('height-from-ion-shift', 'height', {
					shift: { value: shift },
					electronOffset: { value: dy },
					columnAngle
				});
				expect(Math.abs(height - dz)).toBeLessThan(1e-15 + 1e-9 * (Math.abs(dz) + Math.abs(dy)));
			}),
			runs
		);
	});
	it('MR6 the move of a riding Z axis brings the ion view to the centre, and the electron view as far as said', () => {
		fc.assert(
			fc.property(length(1e-4), angle(-60, 60), angle(20, 80), (v, tilt, theta) => {
				const given = { shift: { value: v }, tilt: { value: tilt }, columnAngle: { value: theta } };
				const found = solve(reckoningNamed('z-on-tilt')!, given);
				if (found.kind !== 'solved') {
					expect(Math.abs(tilt - theta)).toBeLessThan(0.101);
					return;
				}
				// the error is positive where it sits high; below the column's angle the axis goes up to bring it down
				const move = Math.sign(theta - tilt) * found.results['error']!.value;
				const views = solved('z-on-tilt-views', {
					move: { value: move },
					tilt: { value: tilt },
					columnAngle: { value: theta }
				});
				expect(v + views.results['ion']!.value).toBeCloseTo(0, 12);
				expect(views.results['electron']!.value).toBeCloseTo(found.results['electronFollows']!.value, 12);
			}),
			runs
		);
	});
	it('MR7 half the difference leaves equal gaps', () => {
		fc.assert(
			fc.property(positive, positive, (left, right) => {
				const move = value('half-difference', 'error', { gapLeft: { value: left }, gapRight: { value: right } });
				expect(left - move).toBeCloseTo(right + move, 15);
			}),
			runs
		);
	});
	it('MR8 a height that wanders as it should is found again, from one tilt and from ± tilt, whatever the sign', () => {
		fc.assert(
			fc.property(length(1e-3), angle(4, 60), fc.constantFrom('+', '-'), (h, tilt, sign) => {
				const tiltSign = { choice: sign };
				const turn = sign === '+' ? 1 : -1;
				const both = { value: turn * 2 * h * Math.sin(tilt) };
				expect(
					value('height-from-plus-minus-tilt', 'error', { shift: both, tilt: { value: tilt }, tiltSign })
				).toBeCloseTo(h, 12);
				const one = { value: turn * h * Math.sin(tilt) };
				expect(
					value('height-from-tilt', 'error', { shift: one, tiltFrom: { value: 0 }, tiltTo: { value: tilt }, tiltSign })
				).toBeCloseTo(h, 12);
			}),
			runs
		);
	});
	it('MR9 a depth reached in the time of a cut is the depth of the cut, and its rate the rate', () => {
		fc.assert(
			fc.property(positive, positive, positive, fc.double({ min: 1e-11, max: 1e-8, noNaN: true }), (l, w, d, i) => {
				const flat = { length: { value: l }, width: { value: w }, current: { value: i } };
				const rate = { value: 0.2e-9 };
				const time = value('time-rectangle', 'time', { ...flat, depth: { value: d }, rate });
				if (time < 1e-3 || time > 1e6) return;
				expect(value('depth-in-time', 'depth', { ...flat, time: { value: time }, rate }) / d).toBeCloseTo(1, 9);
				expect(
					value('rate-from-cut', 'rate', { ...flat, depth: { value: d }, time: { value: time } }) / rate.value
				).toBeCloseTo(1, 9);
				// a rectangle is the polygon of its corners; a wedge is half of it
				const corners = {
					points: [
						[0, 0],
						[l, 0],
						[l, w],
						[0, w]
					] as Point[]
				};
				expect(
					value('time-polygon', 'time', { corners, depth: { value: d }, current: { value: i }, rate }) / time
				).toBeCloseTo(1, 9);
				expect(value('time-trench', 'time', { ...flat, depth: { value: d }, rate }) / time).toBeCloseTo(0.5, 9);
			}),
			runs
		);
	});
	it('MR10 a larger reading never makes a smaller uncertainty of the same relative error', () => {
		fc.assert(
			fc.property(
				positive,
				fc.double({ min: 0.001, max: 0.2, noNaN: true }),
				angle(10, 80),
				(apparent, share, theta) => {
					const at = (size: number) =>
						solved('depth-from-apparent', {
							apparent: { value: size, uncertainty: share * size },
							columnAngle: { value: theta }
						}).results['depth']!.uncertainty!;
					expect(at(2 * apparent)).toBeGreaterThan(at(apparent));
				}
			),
			runs
		);
	});
	it('MR11 asks instead of saying where a result is larger than the view or a limit', () => {
		const given = { shift: { value: 200 * um }, columnAngle: { value: 1 } };
		expect(solved('height-from-ion-shift', given).questioned).toBeUndefined();
		expect(solved('height-from-ion-shift', { ...given, viewHalf: { value: 100 * um } }).questioned?.key).toBe(
			'beyondView'
		);
		expect(solved('height-from-ion-shift', { ...given, limit: { value: 50 * um } }).questioned?.key).toBe(
			'beyondLimit'
		);
		const cut = {
			length: { value: 1e-3 },
			width: { value: 1e-3 },
			depth: { value: 1e-3 },
			current: { value: 1e-12 },
			rate: { value: 1e-10 }
		};
		expect(solved('time-rectangle', cut).questioned?.key).toBe('longerThanVisit');
	});
	it('MR12 refuses a polygon that crosses itself', () => {
		const bow = {
			points: [
				[0, 0],
				[10 * um, 10 * um],
				[10 * um, 0],
				[0, 10 * um]
			] as Point[]
		};
		const found = solve(reckoningNamed('time-polygon')!, {
			corners: bow,
			depth: { value: um },
			current: { value: 1e-9 },
			rate: { value: 1e-10 }
		});
		expect(found).toMatchObject({ kind: 'refused', reason: { key: 'polygonCrosses' } });
	});
});
