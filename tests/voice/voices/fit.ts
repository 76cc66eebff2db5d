/**
 * Learns eigenvoices from many people's words: classes of sounds by expectation and maximisation of a mixture (Dempster, Laird, Rubin,
 * J. Royal Statistical Society B 39, 1977), then the voices by the same for factor analysis (Kenny, Boulianne, Dumouchel 2005, with the step of
 * minimum divergence that keeps the average person at nought).
 */
import { CEPSTRA, CLASSES, type EigenvoicesNumbers, type Mixture, ROW_WEIGHT, SIZE, sortedRows, sorter, VOICES, withMovement } from '$lib/voice/operator/eigenvoices';
import type { Chance } from '../random';
import { inverse, lowerOf } from './matrix';

/** One person's words, each as rows of cepstra. */
export type PersonsWords = readonly (readonly Float64Array[])[];

const MIXTURE_ROUNDS = 15;
const VOICE_ROUNDS = 12;
const MIXTURE_ROWS = 40_000;
/** A class is at least this share as wide as all sounds. */
const NARROWEST = 0.05;
const FIRST_GUESS = 0.3;

function spreadOf(words: PersonsWords): Float64Array {
	const [sum, squares] = [new Float64Array(CEPSTRA), new Float64Array(CEPSTRA)];
	let n = 0;
	for (const rows of words) {
		for (const row of rows) {
			n++;
			row.forEach((x, k) => {
				sum[k] = sum[k]! + x;
				squares[k] = squares[k]! + x * x;
			});
		}
	}
	return sum.map((s, k) => Math.sqrt(squares[k]! / n - (s / n) ** 2));
}

function mixtureOf(all: readonly Float64Array[], chance: Chance): Mixture {
	const rows = chance.shuffle(all).slice(0, MIXTURE_ROWS);
	const whole = Float64Array.from({ length: SIZE }, (_, d) => {
		const mean = rows.reduce((sum, row) => sum + row[d]!, 0) / rows.length;
		return rows.reduce((sum, row) => sum + (row[d]! - mean) ** 2, 0) / rows.length;
	});
	const means = new Float64Array(CLASSES * SIZE);
	for (let c = 0; c < CLASSES; c++) means.set(rows[c]!, c * SIZE);
	const variances = Float64Array.from({ length: CLASSES * SIZE }, (_, i) => whole[i % SIZE]!);
	const shares = new Float64Array(CLASSES).fill(1 / CLASSES);
	for (let round = 0; round < MIXTURE_ROUNDS; round++) {
		const sort = sorter({ shares, means, variances });
		const counts = new Float64Array(CLASSES).fill(1e-6);
		const [sums, squares] = [new Float64Array(CLASSES * SIZE), new Float64Array(CLASSES * SIZE)];
		for (const row of rows) {
			const odds = sort(row);
			for (let c = 0; c < CLASSES; c++) {
				const share = odds[c]!;
				if (share < 1e-6) continue;
				counts[c] = counts[c]! + share;
				for (let d = 0; d < SIZE; d++) {
					sums[c * SIZE + d] = sums[c * SIZE + d]! + share * row[d]!;
					squares[c * SIZE + d] = squares[c * SIZE + d]! + share * row[d]! * row[d]!;
				}
			}
		}
		const total = counts.reduce((a, b) => a + b);
		for (let c = 0; c < CLASSES; c++) {
			shares[c] = counts[c]! / total;
			for (let d = 0; d < SIZE; d++) {
				const mean = sums[c * SIZE + d]! / counts[c]!;
				means[c * SIZE + d] = mean;
				variances[c * SIZE + d] = Math.max(NARROWEST * whole[d]!, squares[c * SIZE + d]! / counts[c]! - mean * mean);
			}
		}
	}
	return { shares, means, variances };
}

type Sorted = ReturnType<typeof sortedRows>;

function voicesOf(people: readonly Sorted[], { variances }: Mixture, chance: Chance): Float64Array {
	const n = VOICES;
	let voices = Float64Array.from({ length: CLASSES * SIZE * n }, (_, i) => FIRST_GUESS * chance.normal() * Math.sqrt(variances[Math.floor(i / n)]!));
	for (let round = 0; round < VOICE_ROUNDS; round++) {
		const settling = Array.from({ length: CLASSES }, (_, c) => {
			const all = new Float64Array(n * n);
			for (let d = 0; d < SIZE; d++) {
				const at = (c * SIZE + d) * n;
				for (let r = 0; r < n; r++) for (let q = 0; q <= r; q++) all[r * n + q] = all[r * n + q]! + (voices[at + r]! * voices[at + q]!) / variances[c * SIZE + d]!;
			}
			return all;
		});
		const curves = Array.from({ length: CLASSES }, () => new Float64Array(n * n));
		const pulls = new Float64Array(CLASSES * SIZE * n);
		const average = new Float64Array(n * n);
		for (const { counts, beside } of people) {
			const settled = new Float64Array(n * n);
			for (let r = 0; r < n; r++) settled[r * n + r] = 1;
			for (let c = 0; c < CLASSES; c++) for (let i = 0; i < n * n; i++) settled[i] = settled[i]! + ROW_WEIGHT * counts[c]! * settling[c]![i]!;
			const pull = new Float64Array(n);
			for (let i = 0; i < CLASSES * SIZE; i++) {
				const weight = (ROW_WEIGHT * beside[i]!) / variances[i]!;
				for (let r = 0; r < n; r++) pull[r] = pull[r]! + weight * voices[i * n + r]!;
			}
			const unsure = inverse(settled, n);
			const y = pull.map((_, r) => pull.reduce((sum, p, q) => sum + unsure[r * n + q]! * p, 0));
			const square = unsure.map((u, i) => u + y[Math.floor(i / n)]! * y[i % n]!);
			for (let i = 0; i < n * n; i++) average[i] = average[i]! + square[i]! / people.length;
			for (let c = 0; c < CLASSES; c++) for (let i = 0; i < n * n; i++) curves[c]![i] = curves[c]![i]! + ROW_WEIGHT * counts[c]! * square[i]!;
			for (let i = 0; i < CLASSES * SIZE; i++) for (let r = 0; r < n; r++) pulls[i * n + r] = pulls[i * n + r]! + ROW_WEIGHT * beside[i]! * y[r]!;
		}
		const lower = lowerOf(average, n);
		const next = new Float64Array(voices.length);
		for (let c = 0; c < CLASSES; c++) {
			for (let r = 0; r < n; r++) curves[c]![r * n + r] = curves[c]![r * n + r]! + 1e-3;
			const unbent = inverse(curves[c]!, n);
			for (let d = 0; d < SIZE; d++) {
				const at = (c * SIZE + d) * n;
				const fitted = Float64Array.from({ length: n }, (_, r) => {
					let sum = 0;
					for (let q = 0; q < n; q++) sum += unbent[r * n + q]! * pulls[at + q]!;
					return sum;
				});
				for (let r = 0; r < n; r++) {
					let sum = 0;
					for (let q = r; q < n; q++) sum += fitted[q]! * lower[q * n + r]!;
					next[at + r] = sum;
				}
			}
		}
		voices = next;
	}
	return voices;
}

/** Hearings of the same word (clean, in noise) stand beside one another in `people`, and count `weight` each. */
export function fitEigenvoices(people: readonly PersonsWords[], weight: number, chance: Chance): EigenvoicesNumbers {
	const spread = spreadOf(people.flat());
	const moving = people.map((words) => words.map((rows) => withMovement(rows, spread)));
	const mixture = mixtureOf(moving.flat(2), chance);
	const sort = sorter(mixture);
	const sorted = moving.map((words) => {
		const { counts, beside } = sortedRows(words.flat(), mixture, sort);
		return { counts: counts.map((x) => x * weight), beside: beside.map((x) => x * weight) };
	});
	return { spread, ...mixture, voices: voicesOf(sorted, mixture, chance) };
}
