import { describe, expect, it } from 'vitest';
import { chanceFrom } from '../voice/random';
import { ctc } from '../voice/training/ctc';

/** All ways of laying `words` over the steps, summed one by one: the definition itself (Graves et al. 2006, equations 1–3). */
function byEnumeration(logits: Float32Array, steps: number, classes: number, words: readonly number[], latest = steps): number {
	const p = Array.from({ length: steps }, (_, t) => {
		const row = Array.from(logits.subarray(t * classes, (t + 1) * classes), Math.exp);
		const sum = row.reduce((a, b) => a + b);
		return row.map((x) => x / sum);
	});
	let total = 0;
	for (let code = 0; code < classes ** steps; code++) {
		const path = Array.from({ length: steps }, (_, t) => Math.floor(code / classes ** t) % classes);
		const said = path.filter((c, t) => c !== classes - 1 && c !== path[t - 1]);
		if (path.some((c, t) => c !== classes - 1 && t > latest)) continue;
		if (said.join() === words.join()) total += path.reduce((product, c, t) => product * p[t]![c]!, 1);
	}
	return -Math.log(total);
}

describe('the sequence cost', () => {
	const chance = chanceFrom('ctc');
	const logits = Float32Array.from({ length: 5 * 4 }, () => chance.normal());
	it.each([[[]], [[0]], [[1, 2]], [[1, 1]], [[0, 2, 0]]])('is the sum over all layings of %j', (words) => {
		expect(ctc(logits, 5, 4, 4, words, words.map(() => 5), new Float32Array(20))).toBeCloseTo(byEnumeration(logits, 5, 4, words), 5);
	});
	it.each([0, 1, 3])('leaves out all layings in which the word is told after step %d', (latest) => {
		expect(ctc(logits, 5, 4, 4, [2], [latest], new Float32Array(20))).toBeCloseTo(byEnumeration(logits, 5, 4, [2], latest), 5);
	});
	it('has the gradient that small changes show', () => {
		const gradient = new Float32Array(20);
		ctc(logits, 5, 4, 4, [1, 1], [3, 3], gradient);
		for (let i = 0; i < 20; i++) {
			const moved = (by: number) => {
				const other = Float32Array.from(logits);
				other[i] = other[i]! + by;
				return ctc(other, 5, 4, 4, [1, 1], [3, 3], new Float32Array(20));
			};
			expect(gradient[i]).toBeCloseTo((moved(1e-2) - moved(-1e-2)) / 2e-2, 3);
		}
	});
	it('is infinite where the words do not fit', () => {
		expect(ctc(logits, 5, 4, 4, [1, 1, 1, 1], [5, 5, 5, 5], new Float32Array(20))).toBe(Infinity);
	});
});
