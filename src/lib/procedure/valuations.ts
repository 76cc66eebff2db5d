/**
 * Valuations (what is true of all parts and settings) kept once each and numbered from 0 in the order met: digits lie
 * end to end in one byte array, found again through an open-addressing table. Adding or finding costs O(width).
 */
export class Valuations {
	digits: Uint8Array;
	count = 0;
	private table: Int32Array;

	constructor(
		readonly width: number,
		room = 256
	) {
		this.digits = new Uint8Array(room * width);
		this.table = new Int32Array(tableSize(room)).fill(-1);
	}

	/** The number of the valuation whose digits begin at `at` in `from`; a new one if it was not met before. */
	add(from: Uint8Array, at = 0): number {
		const mask = this.table.length - 1;
		let place = this.hash(from, at) & mask;
		for (let found = this.table[place] ?? -1; found >= 0; found = this.table[place] ?? -1) {
			if (this.same(found * this.width, from, at)) return found;
			place = (place + 1) & mask;
		}
		if ((this.count + 1) * this.width > this.digits.length) this.grow();
		const id = this.count++;
		this.digits.set(from.subarray(at, at + this.width), id * this.width);
		this.table[place] = id;
		if (this.count * 2 > this.table.length) this.rehash();
		return id;
	}

	private hash(from: Uint8Array, at: number): number {
		let hash = 0x811c9dc5;
		for (let i = 0; i < this.width; i++) hash = Math.imul(hash ^ (from[at + i] ?? 0), 0x01000193);
		hash ^= hash >>> 15;
		return Math.imul(hash, 0x2c1b3c6d) >>> 1;
	}

	private same(kept: number, from: Uint8Array, at: number): boolean {
		for (let i = 0; i < this.width; i++) if (this.digits[kept + i] !== from[at + i]) return false;
		return true;
	}

	private grow(): void {
		const wider = new Uint8Array(this.digits.length * 2 + this.width);
		wider.set(this.digits);
		this.digits = wider;
	}

	private rehash(): void {
		this.table = new Int32Array(this.table.length * 2).fill(-1);
		const mask = this.table.length - 1;
		for (let id = 0; id < this.count; id++) {
			let place = this.hash(this.digits, id * this.width) & mask;
			while ((this.table[place] ?? -1) >= 0) place = (place + 1) & mask;
			this.table[place] = id;
		}
	}
}

function tableSize(room: number): number {
	let size = 16;
	while (size < room * 2) size *= 2;
	return size;
}
