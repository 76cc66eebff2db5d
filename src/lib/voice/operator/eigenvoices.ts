/**
 * What a word tells of who said it, as a few numbers. The sounds of speech are sorted into classes (a mixture of Gaussians); how a
 * person's sounds lie beside the average person's, class by class, is taken for a mixture of a few "eigenvoices" learned from many
 * people, so that two different words can be compared (R. Kuhn et al., "Rapid speaker adaptation in eigenvoice space", IEEE Trans. SAP 8,
 * 2000; P. Kenny, G. Boulianne, P. Dumouchel, "Eigenvoice modeling with sparse training data", IEEE Trans. SAP 13, 2005).
 * Each word's mean spectrum is taken out first: it is the microphone's and the room's as much as the person's.
 */
import { type SoundRow, VOICE_BANDS } from './sound-rows';

export const CLASSES = 32;
export const CEPSTRA = 20;
/** Cepstra and how they move. */
export const SIZE = 2 * CEPSTRA;
export const VOICES = 60;

/** Learned from many people; trained by tests/voice/train-voices.ts. */
export interface EigenvoicesNumbers {
	/** Standard deviation of each cepstrum, by which it is divided. */
	readonly spread: ArrayLike<number>;
	/** Of each class: share, then means and variances of its numbers. */
	readonly shares: ArrayLike<number>;
	readonly means: ArrayLike<number>;
	readonly variances: ArrayLike<number>;
	/** Of each class and number: its part in each eigenvoice. */
	readonly voices: ArrayLike<number>;
}

/** One word's evidence of who said it: sums, so that those of many words are added. */
export interface Evidence {
	/** Rows in each class. */
	readonly counts: Float64Array;
	/** Pull towards each eigenvoice. */
	readonly pull: Float64Array;
}

/** Rows follow one another closely: so many count as one that is new. */
export const ROW_WEIGHT = 0.15;
/** Movement is measured over two rows either side and weighs as much as the cepstra. */
const REACH = 2;
const MOVE_SCALE = 2;

const cosines = Array.from({ length: CEPSTRA }, (_, k) =>
	Float64Array.from({ length: VOICE_BANDS }, (__, band) => Math.sqrt((k === 0 ? 1 : 2) / VOICE_BANDS) * Math.cos((Math.PI * k * (band + 0.5)) / VOICE_BANDS))
);

/** Cepstra of a word's rows, its mean spectrum taken out: CEPSTRA numbers a row. */
export function cepstra(rows: readonly SoundRow[]): Float64Array[] {
	const mean = new Float64Array(VOICE_BANDS);
	for (const { mel } of rows) for (let band = 0; band < VOICE_BANDS; band++) mean[band] = mean[band]! + mel[band]! / rows.length;
	return rows.map(({ mel }) => {
		const row = new Float64Array(CEPSTRA);
		for (let k = 0; k < CEPSTRA; k++) {
			const cosine = cosines[k]!;
			let sum = 0;
			for (let band = 0; band < VOICE_BANDS; band++) sum += cosine[band]! * (mel[band]! - mean[band]!);
			row[k] = sum;
		}
		return row;
	});
}

/** SIZE numbers a row: cepstra over their spread, then how they move. */
export function withMovement(plain: readonly Float64Array[], spread: ArrayLike<number>): Float64Array[] {
	const scaled = plain.map((row) => row.map((x, k) => x / spread[k]!));
	const at = (i: number) => scaled[Math.max(0, Math.min(scaled.length - 1, i))]!;
	const squares = 2 * Array.from({ length: REACH }, (_, i) => (i + 1) ** 2).reduce((a, b) => a + b);
	return scaled.map((row, i) => {
		const all = new Float64Array(SIZE);
		all.set(row);
		for (let far = 1; far <= REACH; far++) for (let k = 0; k < CEPSTRA; k++) all[CEPSTRA + k] = all[CEPSTRA + k]! + (MOVE_SCALE * far * (at(i + far)[k]! - at(i - far)[k]!)) / squares;
		return all;
	});
}

/** The mixture alone. */
export interface Mixture {
	readonly shares: ArrayLike<number>;
	readonly means: ArrayLike<number>;
	readonly variances: ArrayLike<number>;
}

/** Returns, for a row of SIZE numbers, how probably it is of each class; made once for a mixture. */
export function sorter({ shares, means, variances }: Mixture): (row: Float64Array) => Float64Array {
	const classes = shares.length;
	const constants = Float64Array.from({ length: classes }, (_, c) => {
		let sum = Math.log(shares[c]!);
		for (let d = 0; d < SIZE; d++) sum -= 0.5 * Math.log(variances[c * SIZE + d]!);
		return sum;
	});
	const weights = Float64Array.from({ length: classes * SIZE }, (_, i) => 0.5 / variances[i]!);
	return (row) => {
		const odds = new Float64Array(classes);
		let top = -Infinity;
		for (let c = 0; c < classes; c++) {
			let sum = constants[c]!;
			for (let d = 0; d < SIZE; d++) {
				const off = row[d]! - means[c * SIZE + d]!;
				sum -= off * off * weights[c * SIZE + d]!;
			}
			odds[c] = sum;
			if (sum > top) top = sum;
		}
		let total = 0;
		for (let c = 0; c < classes; c++) total += odds[c] = Math.exp(odds[c]! - top);
		for (let c = 0; c < classes; c++) odds[c] = odds[c]! / total;
		return odds;
	};
}

/** Rows of each class, and the sum of what they lie beside its mean. */
export function sortedRows(rows: readonly Float64Array[], mixture: Mixture, sort = sorter(mixture)): { readonly counts: Float64Array; readonly beside: Float64Array } {
	const classes = mixture.shares.length;
	const counts = new Float64Array(classes);
	const beside = new Float64Array(classes * SIZE);
	for (const row of rows) {
		const odds = sort(row);
		for (let c = 0; c < classes; c++) {
			const share = odds[c]!;
			if (share < 1e-6) continue;
			counts[c] = counts[c]! + share;
			for (let d = 0; d < SIZE; d++) beside[c * SIZE + d] = beside[c * SIZE + d]! + share * (row[d]! - mixture.means[c * SIZE + d]!);
		}
	}
	return { counts, beside };
}

/** Lower triangle of the Cholesky factor of a matrix of n rows, in place; returns the logarithm of the matrix's determinant. */
export function cholesky(a: Float64Array, n: number): number {
	let log = 0;
	for (let i = 0; i < n; i++) {
		for (let j = 0; j <= i; j++) {
			let sum = a[i * n + j]!;
			for (let k = 0; k < j; k++) sum -= a[i * n + k]! * a[j * n + k]!;
			a[i * n + j] = i === j ? Math.sqrt(sum) : sum / a[j * n + j]!;
		}
		log += 2 * Math.log(a[i * n + i]!);
	}
	return log;
}

export class Eigenvoices {
	readonly #numbers: EigenvoicesNumbers;
	readonly #sort: (row: Float64Array) => Float64Array;
	/** Of each class: how surely one row of it settles each pair of eigenvoices. */
	readonly #settling: readonly Float64Array[];

	/** `mark`: names these numbers; what a take tells of a voice is of use to them only. */
	constructor(numbers: EigenvoicesNumbers, readonly mark = '') {
		this.#numbers = numbers;
		this.#sort = sorter(numbers);
		const { voices, variances } = numbers;
		this.#settling = Array.from({ length: CLASSES }, (_, c) => {
			const all = new Float64Array(VOICES * VOICES);
			for (let d = 0; d < SIZE; d++) {
				const from = (c * SIZE + d) * VOICES;
				const weight = ROW_WEIGHT / variances[c * SIZE + d]!;
				for (let r = 0; r < VOICES; r++) for (let q = 0; q <= r; q++) all[r * VOICES + q] = all[r * VOICES + q]! + weight * voices[from + r]! * voices[from + q]!;
			}
			return all;
		});
	}

	/** A word's evidence, by its cepstra. */
	of(plain: readonly Float64Array[]): Evidence {
		const { variances, voices, spread } = this.#numbers;
		const { counts, beside } = sortedRows(withMovement(plain, spread), this.#numbers, this.#sort);
		const pull = new Float64Array(VOICES);
		for (let i = 0; i < CLASSES * SIZE; i++) {
			const weight = (ROW_WEIGHT * beside[i]!) / variances[i]!;
			for (let r = 0; r < VOICES; r++) pull[r] = pull[r]! + weight * voices[i * VOICES + r]!;
		}
		return { counts, pull };
	}

	/** Logarithm of how much likelier the evidence is from one person, eigenvoices unknown, than from the average person. */
	#marginal({ counts, pull }: Evidence): number {
		const n = VOICES;
		const settled = new Float64Array(n * n);
		for (let c = 0; c < CLASSES; c++) {
			const count = counts[c]!;
			if (count === 0) continue;
			const settling = this.#settling[c]!;
			for (let r = 0; r < n; r++) for (let i = r * n; i <= r * n + r; i++) settled[i] = settled[i]! + count * settling[i]!;
		}
		for (let i = 0; i < n; i++) settled[i * n + i] = settled[i * n + i]! + 1;
		const log = cholesky(settled, n);
		let square = 0;
		const y = new Float64Array(n);
		for (let i = 0; i < n; i++) {
			let sum = pull[i]!;
			for (let k = 0; k < i; k++) sum -= settled[i * n + k]! * y[k]!;
			y[i] = sum / settled[i * n + i]!;
			square += y[i]! * y[i]!;
		}
		return 0.5 * (square - log);
	}

	/** Compares words with one person's, whose evidence is `person`: logarithm of how much likelier they are from that person than from another. */
	against(person: Evidence): (word: Evidence) => number {
		const alone = this.#marginal(person);
		return (word) => this.#marginal(added([person, word])) - alone - this.#marginal(word);
	}
}

export function added(all: readonly Evidence[], weight = 1): Evidence {
	const sum = { counts: new Float64Array(CLASSES), pull: new Float64Array(VOICES) };
	for (const { counts, pull } of all) {
		for (let c = 0; c < CLASSES; c++) sum.counts[c] = sum.counts[c]! + weight * counts[c]!;
		for (let r = 0; r < VOICES; r++) sum.pull[r] = sum.pull[r]! + weight * pull[r]!;
	}
	return sum;
}
