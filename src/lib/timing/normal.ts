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
// Statistics 37 (1988) 477–484. Numerators and denominators of the three ranges, lowest power first.
const CENTRE = [
	[
		3.387132872796366608, 133.14166789178437745, 1971.5909503065514427, 13731.693765509461125, 45921.953931549871457,
		67265.770927008700853, 33430.575583588128105, 2509.0809287301226727
	],
	[
		1, 42.313330701600911252, 687.1870074920579083, 5394.1960214247511077, 21213.794301586595867,
		39307.89580009271061, 28729.085735721942674, 5226.495278852854561
	]
] as const;
const MIDDLE = [
	[
		1.42343711074968357734, 4.6303378461565452959, 5.7694972214606914055, 3.64784832476320460504,
		1.27045825245236838258, 0.24178072517745061177, 0.0227238449892691845833, 7.7454501427834140764e-4
	],
	[
		1, 2.05319162663775882187, 1.6763848301838038494, 0.68976733498510000455, 0.14810397642748007459,
		0.0151986665636164571966, 5.475938084995344946e-4, 1.05075007164441684324e-9
	]
] as const;
const FAR = [
	[
		6.6579046435011037772, 5.4637849111641143699, 1.7848265399172913358, 0.29656057182850489123,
		0.026532189526576123093, 0.0012426609473880784386, 2.71155556874348757815e-5, 2.01033439929228813265e-7
	],
	[
		1, 0.59983220655588793769, 0.13692988092273580531, 0.0148753612908506148525, 7.868691311456132591e-4,
		1.8463183175100546818e-5, 1.4215117583164458887e-7, 2.04426310338993978564e-15
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
