import type { RingTarget } from './ring.svelte';

/** Numbers on the targets of a sheet, a few at a time, so that a place that was said takes one. */
export interface Numbering {
	/** How many targets bear a number now. */
	readonly shown: number;
	/** Reads the targets anew and numbers them: the sheet may have changed. */
	show(): void;
	/** The next few; after the last ones the first again. */
	further(): void;
	/** The target that bears number `place` + 1; null where none does. */
	at(place: number): RingTarget | null;
	hide(): void;
}

/** `targets` reads what is on the screen now; `most` is how many places can be said. */
export function createNumbering(targets: () => readonly RingTarget[], most: number): Numbering {
	let from = 0;
	let numbered: readonly RingTarget[] = [];

	function hide(): void {
		for (const target of numbered) target.number(null);
		numbered = [];
	}
	function show(): void {
		hide();
		const all = targets();
		if (from >= all.length) from = 0;
		numbered = all.slice(from, from + most);
		numbered.forEach((target, place) => target.number(place + 1));
	}
	return {
		get shown() {
			return numbered.length;
		},
		show,
		further() {
			from += most;
			show();
		},
		at: (place) => numbered[place] ?? null,
		hide() {
			hide();
			from = 0;
		}
	};
}
