/** Logistic regression with a ridge, by Newton's method (Hastie, Tibshirani, Friedman, "The elements of statistical learning", 4.4.1). */

export interface Observation {
	readonly x: readonly number[];
	readonly right: boolean;
	readonly weight: number;
}

/** Solves a · x = b by elimination with row exchange; `a` and `b` are used up. */
function solve(a: number[][], b: number[]): number[] {
	const n = b.length;
	for (let i = 0; i < n; i++) {
		let top = i;
		for (let r = i + 1; r < n; r++) if (Math.abs(a[r]![i]!) > Math.abs(a[top]![i]!)) top = r;
		[a[i], a[top]] = [a[top]!, a[i]!];
		[b[i], b[top]] = [b[top]!, b[i]!];
		for (let r = i + 1; r < n; r++) {
			const f = a[r]![i]! / a[i]![i]!;
			for (let c = i; c < n; c++) a[r]![c] = a[r]![c]! - f * a[i]![c]!;
			b[r] = b[r]! - f * b[i]!;
		}
	}
	for (let i = n - 1; i >= 0; i--) {
		for (let c = i + 1; c < n; c++) b[i] = b[i]! - a[i]![c]! * b[c]!;
		b[i] = b[i]! / a[i]![i]!;
	}
	return b;
}

const ROUNDS = 30;
const RIDGE = 1;

/** Weights for each of x's numbers, then the constant. */
export function logistic(observations: readonly Observation[]): number[] {
	const n = observations[0]!.x.length + 1;
	const w = new Array<number>(n).fill(0);
	for (let round = 0; round < ROUNDS; round++) {
		const gradient = w.map((one, i) => (i < n - 1 ? RIDGE * one : 0));
		const curve: number[][] = w.map((_, i) => w.map((__, j) => (i === j ? (i < n - 1 ? RIDGE : 1e-6) : 0)));
		for (const { x, right, weight } of observations) {
			const all = [...x, 1];
			const p = 1 / (1 + Math.exp(-all.reduce((sum, one, i) => sum + one * w[i]!, 0)));
			for (let i = 0; i < n; i++) {
				gradient[i] = gradient[i]! + weight * (p - (right ? 1 : 0)) * all[i]!;
				for (let j = 0; j < n; j++) curve[i]![j] = curve[i]![j]! + weight * p * (1 - p) * all[i]! * all[j]!;
			}
		}
		const step = solve(curve, gradient);
		for (let i = 0; i < n; i++) w[i] = w[i]! - step[i]!;
		if (Math.max(...step.map(Math.abs)) < 1e-7) break;
	}
	return w;
}
