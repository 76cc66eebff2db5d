/**
 * Connectionist temporal classification: the cost of a sequence of words given each step's probabilities, and its gradient.
 * Source: A. Graves, S. Fernández, F. Gomez, J. Schmidhuber, "Connectionist temporal classification", ICML 2006, equations 6–16.
 */

const logSum = (a: number, b: number): number => {
	if (a === -Infinity) return b;
	if (b === -Infinity) return a;
	return a > b ? a + Math.log1p(Math.exp(b - a)) : b + Math.log1p(Math.exp(a - b));
};

/**
 * @param logits row-major, `steps` rows of `stride` numbers of which the first `classes` count; the last of these is "no word"
 * @param words the sequence, as indices of classes
 * @param latest for each word the last step at which it may end: who speaks waits, so the head may not
 * @param gradient receives d cost / d logit in the same layout
 * @returns −ln P(sequence); Infinity where the sequence does not fit into the steps (the gradient is then zero)
 */
export function ctc(
	logits: Float32Array, steps: number, stride: number, classes: number, words: readonly number[],
	latest: readonly number[], gradient: Float32Array
): number {
	const blank = classes - 1;
	const states = 2 * words.length + 1;
	const label = (s: number) => (s % 2 === 0 ? blank : words[(s - 1) / 2]!);
	const logP = new Float64Array(steps * classes);
	for (let t = 0; t < steps; t++) {
		let most = -Infinity;
		for (let c = 0; c < classes; c++) most = Math.max(most, logits[t * stride + c]!);
		let sum = 0;
		for (let c = 0; c < classes; c++) sum += Math.exp(logits[t * stride + c]! - most);
		const norm = most + Math.log(sum);
		for (let c = 0; c < classes; c++) logP[t * classes + c] = logits[t * stride + c]! - norm;
	}
	const p = (t: number, s: number) => (s % 2 === 1 && t > latest[(s - 1) / 2]! ? -Infinity : logP[t * classes + label(s)]!);
	const skips = (s: number) => s >= 2 && s % 2 === 1 && label(s) !== label(s - 2);
	const forward = new Float64Array(steps * states).fill(-Infinity);
	forward[0] = p(0, 0);
	if (states > 1) forward[1] = p(0, 1);
	for (let t = 1; t < steps; t++) {
		for (let s = 0; s < states; s++) {
			let before = forward[(t - 1) * states + s]!;
			if (s > 0) before = logSum(before, forward[(t - 1) * states + s - 1]!);
			if (skips(s)) before = logSum(before, forward[(t - 1) * states + s - 2]!);
			forward[t * states + s] = before + p(t, s);
		}
	}
	const backward = new Float64Array(steps * states).fill(-Infinity);
	const end = (steps - 1) * states;
	backward[end + states - 1] = 0;
	if (states > 1) backward[end + states - 2] = 0;
	for (let t = steps - 2; t >= 0; t--) {
		for (let s = 0; s < states; s++) {
			const next = (to: number) => backward[(t + 1) * states + to]! + p(t + 1, to);
			let after = next(s);
			if (s + 1 < states) after = logSum(after, next(s + 1));
			if (s + 2 < states && skips(s + 2)) after = logSum(after, next(s + 2));
			backward[t * states + s] = after;
		}
	}
	const logLikelihood = states > 1 ? logSum(forward[end + states - 1]!, forward[end + states - 2]!) : forward[end]!;
	if (logLikelihood === -Infinity) return Infinity;
	for (let t = 0; t < steps; t++) {
		for (let c = 0; c < classes; c++) gradient[t * stride + c] = Math.exp(logP[t * classes + c]!);
		for (let s = 0; s < states; s++) {
			const share = Math.exp(forward[t * states + s]! + backward[t * states + s]! - logLikelihood);
			gradient[t * stride + label(s)] = gradient[t * stride + label(s)]! - share;
		}
	}
	return -logLikelihood;
}
