import type { Point } from './reckoning';

/** Volumes, areas and beam times of cuts and deposits. All SI; a beam time is charge over current, without any move or image between. */

/** N_A·e in C/mol, exact since the SI of 2019 (both constants are defined). */
const faraday = 6.02214076e23 * 1.602176634e-19;

/** Volume per charge from a sputter yield Y (atoms per ion): Y·M/(ρ·N_A·e), in m³/C. Singly charged ions. */
export const rateFromYield = (atomsPerIon: number, molarMassKgPerMol: number, densityKgPerM3: number): number =>
	(atomsPerIon * molarMassKgPerMol) / (densityKgPerM3 * faraday);

/** Time in s to remove or add a volume: V/(rate·I), times the redeposition factor. */
export const beamTimeS = (volumeM3: number, rateM3PerC: number, currentA: number, redeposition = 1): number =>
	(redeposition * volumeM3) / (rateM3PerC * currentA);

/** Signed area by the trapezoid (shoelace) formula; positive where the corners run against the clock. */
export function polygonAreaM2(corners: readonly Point[]): number {
	// from the first corner, so that a small polygon far from the origin keeps its digits
	const [x0, y0] = corners[0] ?? [0, 0];
	let twice = 0;
	for (let i = 0; i < corners.length; i++) {
		const [xa, ya] = corners[i]!;
		const [xb, yb] = corners[(i + 1) % corners.length]!;
		twice += (xa - x0) * (yb - y0) - (xb - x0) * (ya - y0);
	}
	return twice / 2;
}

/**
 * Standard uncertainty of that area for corners whose coordinates each have the independent normal uncertainty `sdM`. Exact, since the
 * area is bilinear: σ²/4·Σ[(yᵢ₊₁ − yᵢ₋₁)² + (xᵢ₊₁ − xᵢ₋₁)²] + n·σ⁴/2 (derived).
 */
export function polygonAreaUncertaintyM2(corners: readonly Point[], sdM: number): number {
	const n = corners.length;
	let across = 0;
	for (let i = 0; i < n; i++) {
		const [xa, ya] = corners[(i + n - 1) % n]!;
		const [xb, yb] = corners[(i + 1) % n]!;
		across += (xb - xa) ** 2 + (yb - ya) ** 2;
	}
	return Math.sqrt((sdM ** 2 * across) / 4 + (n * sdM ** 4) / 2);
}

/** Whether two edges of the polygon that are not neighbours meet: then its area is not what will be cut. */
export function crossesItself(corners: readonly Point[]): boolean {
	const n = corners.length;
	for (let i = 0; i < n; i++)
		for (let j = i + 2; j < n; j++) {
			if (i === 0 && j === n - 1) continue;
			if (meet(corners[i]!, corners[i + 1]!, corners[j]!, corners[(j + 1) % n]!)) return true;
		}
	return false;
}

const turn = ([ax, ay]: Point, [bx, by]: Point, [cx, cy]: Point): number =>
	Math.sign((bx - ax) * (cy - ay) - (by - ay) * (cx - ax));

function meet(a: Point, b: Point, c: Point, d: Point): boolean {
	const [abc, abd, cda, cdb] = [turn(a, b, c), turn(a, b, d), turn(c, d, a), turn(c, d, b)];
	if (abc !== abd && cda !== cdb) return true;
	return [
		[abc, a, b, c],
		[abd, a, b, d],
		[cda, c, d, a],
		[cdb, c, d, b]
	].some(([side, p, q, r]) => side === 0 && between(p as Point, q as Point, r as Point));
}

const between = (p: Point, q: Point, r: Point): boolean =>
	Math.min(p[0], q[0]) <= r[0] &&
	r[0] <= Math.max(p[0], q[0]) &&
	Math.min(p[1], q[1]) <= r[1] &&
	r[1] <= Math.max(p[1], q[1]);

export interface Pattern {
	readonly lengthM: number;
	readonly widthM: number;
	readonly spotM: number;
	/** Part of the spot that neighbouring points share, below 1; negative: a gap. */
	readonly overlap: number;
	readonly dwellS: number;
}

/** Points of a raster and the time of one pass over them: spacing = spot·(1 − overlap) in both directions, ends included. */
export function onePass({ lengthM, widthM, spotM, overlap, dwellS }: Pattern): { points: number; passS: number } {
	const spacingM = spotM * (1 - overlap);
	const points = (Math.floor(lengthM / spacingM) + 1) * (Math.floor(widthM / spacingM) + 1);
	return { points, passS: points * dwellS };
}
