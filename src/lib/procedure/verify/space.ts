import { Ints } from './ints';

/** How a state was reached: in the walk itself, or only after "end the visit" let the walk join at an entry. */
export const WALK = 0;
export const ENDING = 1;
export type Mode = typeof WALK | typeof ENDING;

/**
 * The reachable states, numbered in the order met. A state is (step, parts): which troubles are open is not part of it,
 * because where a trouble returns to is kept as summaries (reach.ts). Found again through one open-addressing table.
 */
export class Space {
	readonly step = new Ints();
	readonly parts = new Ints();
	readonly mode = new Ints();
	private table = new Int32Array(4096).fill(-1);

	/** No more states than `limit` are kept. */
	constructor(readonly limit: number) {}

	get count(): number {
		return this.step.length;
	}

	/** The state's number, or −1. */
	find(step: number, parts: number): number {
		return this.table[this.place(step, parts)] as number;
	}

	/** Adds a state that is not there yet (ask `find` first); −1 where the limit is reached. */
	add(step: number, parts: number, mode: Mode): number {
		if (this.count >= this.limit) return -1;
		const state = this.step.push(step);
		this.parts.push(parts);
		this.mode.push(mode);
		this.table[this.place(step, parts)] = state;
		if (this.count * 2 > this.table.length) this.grow();
		return state;
	}

	/** Where the state stands in the table, or the free place where it would. */
	private place(step: number, parts: number): number {
		const mask = this.table.length - 1;
		let hash = Math.imul(parts, 0x9e3779b1) ^ Math.imul(step, 0x85ebca6b);
		hash ^= hash >>> 15;
		let place = Math.imul(hash, 0x2c1b3c6d) & mask;
		for (let state = this.table[place] as number; state >= 0; state = this.table[place] as number) {
			if (this.parts.data[state] === parts && this.step.data[state] === step) break;
			place = (place + 1) & mask;
		}
		return place;
	}

	private grow(): void {
		this.table = new Int32Array(this.table.length * 2).fill(-1);
		for (let state = 0; state < this.count; state++) this.table[this.place(this.step.at(state), this.parts.at(state))] = state;
	}
}
