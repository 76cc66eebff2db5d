/** Seeded random numbers for tests: mulberry32 (public domain, Tommy Ettinger), one 32-bit state. */
export class Random {
	constructor(private state: number) {}
	/** In [0, 1). */
	next(): number {
		this.state = (this.state + 0x6d2b79f5) | 0;
		let t = Math.imul(this.state ^ (this.state >>> 15), 1 | this.state);
		t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
		return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
	}
	/** Integer in [0, below). */
	below(below: number): number {
		return Math.floor(this.next() * below);
	}
	chance(p: number): boolean {
		return this.next() < p;
	}
	pick<T>(list: readonly T[]): T {
		const item = list[this.below(list.length)];
		if (item === undefined) throw new Error('nothing to pick from');
		return item;
	}
}
