/** Logistic regression with a ridge, features standardised, by Newton's method. */

/** Gives the probability for a row of features. */
export type Classifier = (features: readonly number[]) => number;

const STEPS = 12;
const RIDGE = 1;

/** @throws RangeError where there are no rows, or rows and outcomes differ in number */
export function fitLogistic(rows: readonly (readonly number[])[], outcomes: readonly boolean[]): Classifier {
	const width = rows[0]?.length;
	if (width === undefined || rows.length !== outcomes.length)
		throw new RangeError(
			`logistic regression: expected as many outcomes as rows and at least one, got ${rows.length} and ${outcomes.length}`
		);
	const { centres, scales } = standard(rows, width);
	const size = width + 1;
	const design = rows.map((row) =>
		Float64Array.from({ length: size }, (_, at) => (at === 0 ? 1 : scaled(row, at - 1, centres, scales)))
	);
	const weights = new Float64Array(size);
	for (let step = 0; step < STEPS; step++) {
		const curvature = Array.from({ length: size }, () => new Float64Array(size));
		const gradient = new Float64Array(size);
		design.forEach((row, index) => {
			const p = sigmoid(dot(weights, row));
			const miss = (outcomes[index] ? 1 : 0) - p;
			for (let a = 0; a < size; a++) {
				gradient[a] = (gradient[a] as number) + miss * (row[a] as number);
				const weight = p * (1 - p) * (row[a] as number);
				const line = curvature[a] as Float64Array;
				for (let b = 0; b <= a; b++) line[b] = (line[b] as number) + weight * (row[b] as number);
			}
		});
		for (let a = 0; a < size; a++) {
			const line = curvature[a] as Float64Array;
			// the intercept is not shrunk, only kept soluble
			line[a] = (line[a] as number) + (a === 0 ? 1e-6 : RIDGE);
			if (a > 0) gradient[a] = (gradient[a] as number) - RIDGE * (weights[a] as number);
		}
		const change = solveCholesky(curvature, gradient);
		for (let a = 0; a < size; a++) weights[a] = (weights[a] as number) + (change[a] as number);
	}
	return (features) => {
		let sum = weights[0] as number;
		for (let at = 0; at < width; at++) sum += (weights[at + 1] as number) * scaled(features, at, centres, scales);
		return sigmoid(sum);
	};
}

const sigmoid = (x: number): number => 1 / (1 + Math.exp(-x));

function dot(a: Float64Array, b: Float64Array): number {
	let sum = 0;
	for (let at = 0; at < a.length; at++) sum += (a[at] as number) * (b[at] as number);
	return sum;
}

const scaled = (row: readonly number[], at: number, centres: Float64Array, scales: Float64Array): number =>
	((row[at] as number) - (centres[at] as number)) / (scales[at] as number);

function standard(
	rows: readonly (readonly number[])[],
	width: number
): { centres: Float64Array; scales: Float64Array } {
	const centres = new Float64Array(width);
	const scales = new Float64Array(width);
	for (let at = 0; at < width; at++) {
		const mean = rows.reduce((sum, row) => sum + (row[at] as number), 0) / rows.length;
		const variance = rows.reduce((sum, row) => sum + ((row[at] as number) - mean) ** 2, 0) / rows.length;
		centres[at] = mean;
		scales[at] = Math.sqrt(variance) || 1;
	}
	return { centres, scales };
}

/** Solves A x = b for a symmetric positive definite A, given by its lower triangle, which is overwritten. */
function solveCholesky(lower: Float64Array[], right: Float64Array): Float64Array {
	const size = right.length;
	const at = (row: number, column: number): number => (lower[row] as Float64Array)[column] as number;
	for (let row = 0; row < size; row++)
		for (let column = 0; column <= row; column++) {
			let sum = at(row, column);
			for (let k = 0; k < column; k++) sum -= at(row, k) * at(column, k);
			(lower[row] as Float64Array)[column] = row === column ? Math.sqrt(sum) : sum / at(column, column);
		}
	const x = right.slice();
	for (let row = 0; row < size; row++) {
		let sum = x[row] as number;
		for (let k = 0; k < row; k++) sum -= at(row, k) * (x[k] as number);
		x[row] = sum / at(row, row);
	}
	for (let row = size - 1; row >= 0; row--) {
		let sum = x[row] as number;
		for (let k = row + 1; k < size; k++) sum -= at(k, row) * (x[k] as number);
		x[row] = sum / at(row, row);
	}
	return x;
}
