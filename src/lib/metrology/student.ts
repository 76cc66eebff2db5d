/**
 * Student's t for whole degrees of freedom: the finite trigonometric sums of Abramowitz & Stegun 26.7.3 and 26.7.4, inverted by
 * bisection. Exact to rounding; for the small samples of a calibration.
 */
export function studentCdf(t: number, freedom: number): number {
	const theta = Math.atan(Math.abs(t) / Math.sqrt(freedom));
	const cosine2 = Math.cos(theta) ** 2;
	const odd = freedom % 2 === 1;
	let term = odd ? Math.cos(theta) : 1;
	let sum = freedom === 1 ? 0 : term;
	for (let k = odd ? 3 : 2; k <= freedom - 2; k += 2) {
		term *= (cosine2 * (k - 1)) / k;
		sum += term;
	}
	const within = odd ? (2 / Math.PI) * (theta + Math.sin(theta) * sum) : Math.sin(theta) * sum;
	return t < 0 ? (1 - within) / 2 : (1 + within) / 2;
}

/** t with P(T ≤ t) = p. Throws a RangeError unless 0 < p < 1 and the degrees of freedom are a whole number from 1. */
export function studentQuantile(p: number, freedom: number): number {
	if (!(p > 0 && p < 1)) throw new RangeError(`probability is ${p}; expected between 0 and 1`);
	if (!(Number.isInteger(freedom) && freedom >= 1))
		throw new RangeError(`degrees of freedom are ${freedom}; expected a whole number from 1`);
	if (p < 0.5) return -studentQuantile(1 - p, freedom);
	let low = 0;
	let high = 1;
	while (studentCdf(high, freedom) < p) high *= 2;
	for (let i = 0; i < 80; i++) {
		const middle = (low + high) / 2;
		if (studentCdf(middle, freedom) < p) low = middle;
		else high = middle;
	}
	return (low + high) / 2;
}
