/** A binary heap of numbers (items) by cost, least first; of equal costs the one pushed first. */
export class Heap {
	private items: number[] = [];
	private costs: number[] = [];
	private order: number[] = [];
	private pushed = 0;

	get size(): number {
		return this.items.length;
	}

	push(item: number, cost: number): void {
		this.items.push(item);
		this.costs.push(cost);
		this.order.push(this.pushed++);
		let at = this.items.length - 1;
		while (at > 0) {
			const above = (at - 1) >> 1;
			if (!this.before(at, above)) break;
			this.swap(at, above);
			at = above;
		}
	}

	/** Takes the least item out. Throws on an empty heap: ask `size` first. */
	pop(): { item: number; cost: number } {
		const item = this.items[0];
		const cost = this.costs[0];
		if (item === undefined || cost === undefined) throw new Error('The heap is empty.');
		this.swap(0, this.items.length - 1);
		this.items.pop();
		this.costs.pop();
		this.order.pop();
		for (let at = 0; ; ) {
			let least = at;
			for (const below of [2 * at + 1, 2 * at + 2]) if (below < this.items.length && this.before(below, least)) least = below;
			if (least === at) return { item, cost };
			this.swap(at, least);
			at = least;
		}
	}

	private before(a: number, b: number): boolean {
		const less = (this.costs[a] ?? 0) - (this.costs[b] ?? 0);
		return less < 0 || (less === 0 && (this.order[a] ?? 0) < (this.order[b] ?? 0));
	}

	private swap(a: number, b: number): void {
		for (const list of [this.items, this.costs, this.order]) {
			const kept = list[a] ?? 0;
			list[a] = list[b] ?? 0;
			list[b] = kept;
		}
	}
}
