import { Ints } from './ints';

/** How a state was reached: in the walk itself, or only after "end the visit" let the walk join at an entry. */
export const WALK = 0;
export const ENDING = 1;
export type Mode = typeof WALK | typeof ENDING;

/**
 * The reachable states, numbered in the order met. A state is (step, parts): which troubles are open is not part of it,
 * because where a trouble returns to is kept as summaries (reach.ts). Found again through one dense table.
 */
export class Space {
	readonly step = new Ints();
	readonly parts = new Ints();
	readonly mode = new Ints();
	private table: Int32Array;
	private room = 256;

	constructor(
		private readonly stepCount: number,
		/** No more states than this are kept. */
		readonly limit: number
	) {
		this.table = new Int32Array(this.room * stepCount).fill(-1);
	}

	get count(): number {
		return this.step.length;
	}

	/** The state's number, or −1. */
	find(step: number, parts: number): number {
		return parts < this.room ? (this.table[parts * this.stepCount + step] as number) : -1;
	}

	/** Adds a state that is not there yet; −1 where the limit is reached. */
	add(step: number, parts: number, mode: Mode): number {
		if (this.count >= this.limit) return -1;
		while (parts >= this.room) {
			const wider = new Int32Array(this.table.length * 2).fill(-1);
			wider.set(this.table);
			this.table = wider;
			this.room *= 2;
		}
		const state = this.step.push(step);
		this.parts.push(parts);
		this.mode.push(mode);
		this.table[parts * this.stepCount + step] = state;
		return state;
	}
}
