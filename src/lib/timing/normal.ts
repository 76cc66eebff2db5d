/** The normal distribution: tail, probability and quantile, to double precision. */

const ROOT_2 = Math.SQRT2;
const ROOT_PI = Math.sqrt(Math.PI);

/** erf by its Maclaurin series with all terms positive: erf x = 2/√π · e^(−x²) · Σ 2ⁿ x^(2n+1) / (1·3·…·(2n+1)); for 0 ≤ x < 2.5. */
function erfSeries(x: number): number {
	let term = x;
	let sum = x;
	for (let n = 1; term > sum * 1e-17; n++) {
		term *= (2 * x * x) / (2 * n + 1);
		sum += term;
	}
	return (2 / ROOT_PI) * Math.exp(-x * x) * sum;
}

/** erfc by Laplace's continued fraction, evaluated backwards; for x ≥ 2.5, where 60 levels are beyond double precision. */
function erfcFraction(x: number): number {
	let below = x;
	for (let level = 60; level >= 1; level--) below = x + level / 2 / below;
	return Math.exp(-x * x) / (ROOT_PI * below);
}

/** Complementary error function 1 − erf x. */
export function erfc(x: number): number {
	if (Number.isNaN(x)) return NaN;
	const size = Math.abs(x);
	const tail = size < 2.5 ? 1 - erfSeries(size) : erfcFraction(size);
	return x < 0 ? 2 - tail : tail;
}

/** P(Z ≤ z) of the standard normal. */
export const normalCdf = (z: number): number => 0.5 * erfc(-z / ROOT_2);

/** P(Z > z) of the standard normal, exact far out in the tail. */
export const normalTail = (z: number): number => 0.5 * erfc(z / ROOT_2);

/** Density of the standard normal. */
export const normalDensity = (z: number): number => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);

// Coefficients of algorithm AS 241, routine PPND16: M. J. Wichura, The percentage points of the normal distribution, Applied
// Statistics 37 (1988) 477–484. Numerators and denominators of the three ranges,
// lowest power first, each as the nearest double.
const CENTRE = [
	[
		3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987, 67265.7709270087,
		33430.57558358813, 2509.0809287301227
	],
	[
		1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597, 39307.89580009271,
		28729.085735721943, 5226.495278852854
	]
] as const;
const MIDDLE = [
	[
		1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684,
		0.2417807251774506, 0.022723844989269184, 0.0007745450142783414
	],
	[
		1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008, 0.015198666563616457,
		0.0005475938084995345, 1.0507500716444169e-9
	]
] as const;
const FAR = [
	[
		6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487, 0.026532189526576124,
		0.0012426609473880784, 2.7115555687434876e-5, 2.0103343992922881e-7
	],
	[
		1, 0.599832206555888, 0.1369298809227358, 0.014875361290850615, 0.0007868691311456133, 1.8463183175100548e-5,
		1.421511758316446e-7, 2.0442631033899397e-15
	]
] as const;

type Ratio = readonly [readonly number[], readonly number[]];

/** Horner's rule. */
function polynomial(coefficients: readonly number[], x: number): number {
	let sum = coefficients[7] as number;
	for (let power = 6; power >= 0; power--) sum = sum * x + (coefficients[power] as number);
	return sum;
}

const ratio = ([above, below]: Ratio, x: number): number => polynomial(above, x) / polynomial(below, x);

/**
 * z with P(Z ≤ z) = p: AS 241, about 16 digits. −∞ and ∞ at 0 and 1.
 * @throws RangeError where p is not a probability
 */
export function normalQuantile(p: number): number {
	if (!(p >= 0 && p <= 1)) throw new RangeError(`normalQuantile: expected a probability from 0 to 1, got ${p}`);
	if (p === 0) return -Infinity;
	if (p === 1) return Infinity;
	const centred = p - 0.5;
	if (Math.abs(centred) <= 0.425) return centred * ratio(CENTRE, 0.180625 - centred * centred);
	const depth = Math.sqrt(-Math.log(centred < 0 ? p : 1 - p));
	const z = depth <= 5 ? ratio(MIDDLE, depth - 1.6) : ratio(FAR, depth - 5);
	return centred < 0 ? -z : z;
}
