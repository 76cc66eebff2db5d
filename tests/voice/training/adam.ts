/** Adam with decoupled weight decay. Source: I. Loshchilov, F. Hutter, "Decoupled weight decay regularization", ICLR 2019. */
export class Adam {
	readonly #first: Float32Array;
	readonly #second: Float32Array;
	#count = 0;

	constructor(numbers: number) {
		this.#first = new Float32Array(numbers);
		this.#second = new Float32Array(numbers);
	}

	/** Changes `numbers` by one step against `gradient`. */
	step(numbers: Float32Array, gradient: Float32Array, rate: number, decay: number): void {
		this.#count++;
		const [c1, c2] = [1 - 0.9 ** this.#count, 1 - 0.999 ** this.#count];
		for (let i = 0; i < numbers.length; i++) {
			const g = gradient[i]!;
			const m = (this.#first[i] = 0.9 * this.#first[i]! + 0.1 * g);
			const v = (this.#second[i] = 0.999 * this.#second[i]! + 0.001 * g * g);
			numbers[i] = numbers[i]! * (1 - rate * decay) - (rate * (m / c1)) / (Math.sqrt(v / c2) + 1e-8);
		}
	}
}
