/** Power spectrum of 512 real samples, by one complex transform of 256 (Cooley and Tukey, Mathematics of Computation 19, 1965). */

const SIZE = 512;
const HALF = SIZE / 2;
const BITS = 8;

const cosine = Float64Array.from({ length: HALF }, (_, i) => Math.cos((2 * Math.PI * i) / SIZE));
const sine = Float64Array.from({ length: HALF }, (_, i) => Math.sin((2 * Math.PI * i) / SIZE));
const reversed = Uint16Array.from({ length: HALF }, (_, i) => {
	let out = 0;
	for (let bit = 0; bit < BITS; bit++) out |= ((i >> bit) & 1) << (BITS - 1 - bit);
	return out;
});
const real = new Float64Array(HALF);
const imaginary = new Float64Array(HALF);
const power = new Float64Array(HALF + 1);

function transform(): void {
	for (let length = 2; length <= HALF; length *= 2) {
		const turn = SIZE / length;
		for (let start = 0; start < HALF; start += length) {
			for (let k = 0; k < length / 2; k++) {
				const [a, b] = [start + k, start + k + length / 2];
				const [c, s] = [cosine[k * turn]!, -sine[k * turn]!];
				const re = real[b]! * c - imaginary[b]! * s;
				const im = real[b]! * s + imaginary[b]! * c;
				real[b] = real[a]! - re;
				imaginary[b] = imaginary[a]! - im;
				real[a] = real[a]! + re;
				imaginary[a] = imaginary[a]! + im;
			}
		}
	}
}

/** Squared magnitudes of bins 0 to 256; the array is used again by the next call. */
export function powerSpectrum(samples: Float64Array): Float64Array {
	for (let i = 0; i < HALF; i++) {
		real[reversed[i]!] = samples[2 * i]!;
		imaginary[reversed[i]!] = samples[2 * i + 1]!;
	}
	transform();
	for (let k = 0; k <= HALF; k++) {
		const [a, b] = [k % HALF, (HALF - k) % HALF];
		const evenRe = (real[a]! + real[b]!) / 2;
		const evenIm = (imaginary[a]! - imaginary[b]!) / 2;
		const oddRe = (imaginary[a]! + imaginary[b]!) / 2;
		const oddIm = (real[b]! - real[a]!) / 2;
		const [c, s] = k === HALF ? [-1, 0] : [cosine[k]!, -sine[k]!];
		const re = evenRe + oddRe * c - oddIm * s;
		const im = evenIm + oddRe * s + oddIm * c;
		power[k] = re * re + im * im;
	}
	return power;
}
