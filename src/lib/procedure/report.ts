import { type Fault, inOrder, type Position } from './fault';
import { limits } from './limits';
import type { Path, Source } from './source';
import { sameWords } from './words';

/** A piece of a file. */
export interface Where {
	readonly source: Source;
	readonly path: Path;
}

/** The piece below `where`. */
export const below = (where: Where, ...names: Path): Where => ({ source: where.source, path: [...where.path, ...names] });

export const positionOf = (where: Where): Position => where.source.position(where.path);

/** Collects the faults of one compilation. */
export class Report {
	private readonly collected: Fault[] = [];
	private readonly takenOut = new Set<string>();

	add(where: Where, sentence: string, key = false): null {
		if (this.collected.length <= limits.faults) this.collected.push({ ...where.source.position(where.path, key), sentence });
		return null;
	}

	/** A name that nothing answers to: told unless the schema has taken out a piece that bears it. */
	addUnknown(where: Where, name: string, sentence: string): null {
		return this.takenOut.has(sameWords(name)) ? null : this.add(where, sentence);
	}

	take(faults: readonly Fault[], takenOut: ReadonlySet<string> = new Set()): void {
		for (const fault of faults.slice(0, limits.faults + 1)) this.collected.push(fault);
		for (const words of takenOut) this.takenOut.add(words);
	}

	get faults(): Fault[] {
		const all = inOrder(this.collected);
		if (all.length <= limits.faults) return all;
		const last = all[limits.faults - 1] as Fault;
		return [...all.slice(0, limits.faults - 1), { ...last, sentence: `${last.sentence} (more than ${limits.faults} faults: the rest is not told)` }];
	}
}
