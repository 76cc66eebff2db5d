import { describe, expect, it } from 'vitest';
import { reckoningNamed } from '$lib/metrology/registry';
import { sumText } from '$lib/session/sum-words';
import { solve, type Given } from '$lib/metrology/solve';

/**
 * Two-beam geometry against numbers worked out outside the program.
 * Source of all rows: derived from first principles by hand (electron axis vertical, tilt about x, column angle θ, stage tilt T);
 * the derivation stands with each. Tolerance: half a unit in the last place given.
 */
const um = 1e-6;
const deg = Math.PI / 180;

function reckon(name: string, given: Record<string, number | string>): Record<string, number> {
	const reckoning = reckoningNamed(name);
	if (!reckoning) throw new Error(`no reckoning "${name}"`);
	const asGiven = Object.fromEntries(
		Object.entries(given).map(([key, value]): [string, Given] => [
			key,
			typeof value === 'string' ? { choice: value } : { value }
		])
	);
	const solved = solve(reckoning, asGiven);
	if (solved.kind !== 'solved') throw new Error(JSON.stringify(solved));
	return Object.fromEntries(Object.entries(solved.results).map(([key, { value }]) => [key, value]));
}

function refusal(name: string, given: Record<string, number>): string {
	const solved = solve(
		reckoningNamed(name)!,
		Object.fromEntries(Object.entries(given).map(([key, value]) => [key, { value }]))
	);
	return solved.kind === 'refused' ? sumText(solved.reason) : `not refused: ${solved.kind}`;
}

describe('PG1 shift seen in the ion view, v = Δy·cosθ − Δz·sinθ', () => {
	// the ion view sees the component at right angles to its beam, whose direction is (sinθ, cosθ) in (y, z): (cosθ, −sinθ)
	it.each([
		[10, 0, 60, 5],
		[0, 10, 30, -5],
		// both: 10·½ − 10·√3/2 = −3.660
		[10, 10, 60, -3.66]
	])('Δy %f µm, Δz %f µm, θ %f° → %f µm', (dy, dz, theta, v) => {
		expect(reckon('ion-shift', { dy: dy * um, dz: dz * um, columnAngle: theta * deg })['shift']! / um).toBeCloseTo(
			v,
			2
		);
	});
});

describe('PG2 height error with X and Y right, |Δz| = |v|/sinθ', () => {
	// sin 52° = 0.78801, 30/0.78801 = 38.07; sin 54° = 0.80902, 30/0.80902 = 37.08
	it.each([
		[52, 38.1],
		[54, 37.1]
	])('30 µm at %f° → %f µm', (theta, height) => {
		const found = reckon('height-from-ion-shift', { shift: 30 * um, columnAngle: theta * deg });
		expect(found['error']! / um).toBeCloseTo(height, 1);
		// high in the ion view means low in the chamber: v = −Δz·sinθ
		expect(found['height']! / um).toBeCloseTo(-height, 1);
	});
});

describe('PG3 a Z axis that rides on the tilt: ion view δ·sin(T − θ), electron view δ·sinT', () => {
	it('δ 10 µm, T 22°, θ 52°: ion −5.00 µm (sin −30°), electron 3.75 µm (sin 22° = 0.37461)', () => {
		const found = reckon('z-on-tilt-views', { move: 10 * um, tilt: 22 * deg, columnAngle: 52 * deg });
		expect(found['ion']! / um).toBeCloseTo(-5, 2);
		expect(found['electron']! / um).toBeCloseTo(3.75, 2);
	});
	it('at T = θ the ion view does not move: refused, with the reason', () => {
		expect(refusal('z-on-tilt', { shift: 10 * um, tilt: 52 * deg, columnAngle: 52 * deg })).toMatch(
			/along the ion beam/
		);
	});
	it('at T = 0 it is the plain height: 30 µm at 52° → 38.1 µm', () => {
		expect(reckon('z-on-tilt', { shift: 30 * um, tilt: 0, columnAngle: 52 * deg })['error']! / um).toBeCloseTo(38.1, 1);
	});
});

describe('PG4 height off the tilt axis from a tilt, Δy = h(sinT₂ − sinT₁) + y₀(cosT₂ − cosT₁)', () => {
	it('0 → 10°, y₀ = 0, 12 µm → 69.1 µm (sin 10° = 0.17365)', () => {
		const found = reckon('height-from-tilt', { shift: 12 * um, tiltFrom: 0, tiltTo: 10 * deg, tiltSign: '+' });
		expect(found['error']! / um).toBeCloseTo(69.1, 1);
	});
	it('0 → 60°, y₀ = 10 µm, 12 µm → 19.6 µm ((12 + 5)/0.86603 = 19.63)', () => {
		const found = reckon('height-from-tilt', {
			shift: 12 * um,
			tiltFrom: 0,
			tiltTo: 60 * deg,
			lateral: 10 * um,
			tiltSign: '+'
		});
		expect(found['error']! / um).toBeCloseTo(19.6, 1);
	});
	it('from ±5°, 12 µm → 68.8 µm (2·sin 5° = 0.17431)', () => {
		expect(
			reckon('height-from-plus-minus-tilt', { shift: 12 * um, tilt: 5 * deg, tiltSign: '+' })['error']! / um
		).toBeCloseTo(68.8, 1);
	});
	it('the same from ± tilt and from a tilt −T → +T, whatever y₀', () => {
		const both = reckon('height-from-plus-minus-tilt', { shift: 12 * um, tilt: 20 * deg, tiltSign: '-' })['error']!;
		const one = reckon('height-from-tilt', {
			shift: 12 * um,
			tiltFrom: -20 * deg,
			tiltTo: 20 * deg,
			lateral: 900 * um,
			tiltSign: '-'
		});
		expect(one['error']! / both).toBeCloseTo(1, 9);
	});
});

describe('PG5 true sizes from apparent ones', () => {
	it('depth on a face parallel to the ion beam, d_app/sinθ: 5.0 µm at 52° → 6.35 µm (5/0.78801 = 6.345)', () => {
		expect(reckon('depth-from-apparent', { apparent: 5 * um, columnAngle: 52 * deg })['depth']! / um).toBeCloseTo(
			6.345,
			3
		);
	});
	it('thickness of a top edge at T = θ, t_app/cosθ: 0.62 µm at 52° → 1.01 µm (0.62/0.61566 = 1.007)', () => {
		expect(reckon('thickness-from-apparent', { apparent: 0.62 * um, tilt: 52 * deg })['thickness']! / um).toBeCloseTo(
			1.007,
			3
		);
	});
});

describe('PG6 clearance under the lens, WD − (reach·sin|T| + above·cosT)', () => {
	// a point 8 mm off the axis and 1 mm over it, tilted by 30°: 8·½ + 1·0.86603 = 4.866; 10 − 4.866 = 5.134
	it('10 mm working distance → 5.13 mm', () => {
		const given = { workingDistance: 10e-3, reach: 8e-3, above: 1e-3, least: 2e-3 };
		expect(reckon('lens-clearance', { ...given, tilt: 30 * deg })['clearance']! * 1e3).toBeCloseTo(5.134, 3);
		expect(reckon('lens-clearance', { ...given, tilt: -30 * deg })['clearance']! * 1e3).toBeCloseTo(5.134, 3);
	});
});

describe('PG7 half the difference', () => {
	it('gaps 30 and 10 µm → 10 µm (30 − 10 = 20 = 10 + 10)', () => {
		expect(reckon('half-difference', { gapLeft: 30 * um, gapRight: 10 * um })['error']! / um).toBeCloseTo(10, 9);
	});
});
