/** Symmetric positive definite matrices, row by row in one array. */
import { cholesky } from '$lib/voice/operator/eigenvoices';

/** Inverse of the lower triangle `l` of n rows. */
function inverseOfLower(l: Float64Array, n: number): Float64Array {
	const inverse = new Float64Array(n * n);
	for (let j = 0; j < n; j++) {
		inverse[j * n + j] = 1 / l[j * n + j]!;
		for (let i = j + 1; i < n; i++) {
			let sum = 0;
			for (let k = j; k < i; k++) sum -= l[i * n + k]! * inverse[k * n + j]!;
			inverse[i * n + j] = sum / l[i * n + i]!;
		}
	}
	return inverse;
}

/** The inverse; `a`, of which the lower triangle is read, is used up. */
export function inverse(a: Float64Array, n: number): Float64Array {
	cholesky(a, n);
	const lower = inverseOfLower(a, n);
	const out = new Float64Array(n * n);
	for (let i = 0; i < n; i++) {
		for (let j = 0; j <= i; j++) {
			let sum = 0;
			for (let k = i; k < n; k++) sum += lower[k * n + i]! * lower[k * n + j]!;
			out[i * n + j] = out[j * n + i] = sum;
		}
	}
	return out;
}

/** Lower Cholesky factor, zeros above. */
export function lowerOf(a: Float64Array, n: number): Float64Array {
	const l = a.slice();
	cholesky(l, n);
	for (let i = 0; i < n; i++) l.fill(0, i * n + i + 1, (i + 1) * n);
	return l;
}
