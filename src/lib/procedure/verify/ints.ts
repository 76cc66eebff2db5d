/** A list of 32-bit integers that grows by doubling: dense, and read without boxing. */
export class Ints {
	data: Int32Array;
	length = 0;

	constructor(room = 1024) {
		this.data = new Int32Array(room);
	}

	push(value: number): number {
		if (this.length === this.data.length) {
			const wider = new Int32Array(this.data.length * 2);
			wider.set(this.data);
			this.data = wider;
		}
		this.data[this.length] = value;
		return this.length++;
	}

	/** Makes the list at least this long, the new places filled. */
	reach(length: number, fill: number): void {
		if (length <= this.length) return;
		if (length > this.data.length) {
			const wider = new Int32Array(Math.max(length, this.data.length * 2));
			wider.set(this.data.subarray(0, this.length));
			this.data = wider;
		}
		for (let at = this.length; at < length; at++) this.data[at] = fill;
		this.length = length;
	}

	at(index: number): number {
		return this.data[index] as number;
	}
}

/** A set of pairs of non-negative integers below 2²⁶, by open addressing. */
export class Pairs {
	size = 0;
	private table = new Float64Array(1024).fill(-1);

	/** True if the pair is new. */
	add(a: number, b: number): boolean {
		const key = a * 0x4000000 + b;
		const mask = this.table.length - 1;
		let place = mixed(a, b) & mask;
		for (let found = this.table[place] as number; found !== -1; found = this.table[place] as number) {
			if (found === key) return false;
			place = (place + 1) & mask;
		}
		this.table[place] = key;
		if (++this.size * 2 > this.table.length) this.grow();
		return true;
	}

	private grow(): void {
		const old = this.table;
		this.table = new Float64Array(old.length * 2).fill(-1);
		const mask = this.table.length - 1;
		for (const key of old) {
			if (key === -1) continue;
			const b = key % 0x4000000;
			let place = mixed((key - b) / 0x4000000, b) & mask;
			while (this.table[place] !== -1) place = (place + 1) & mask;
			this.table[place] = key;
		}
	}
}

function mixed(a: number, b: number): number {
	let hash = Math.imul(a, 0x9e3779b1) ^ Math.imul(b, 0x85ebca6b);
	hash ^= hash >>> 15;
	hash = Math.imul(hash, 0x2c1b3c6d);
	return (hash ^ (hash >>> 13)) >>> 0;
}
