import { textWidthPx } from './letter-widths';

/** A word that would like to stand near a place on the rail. */
export interface Wish {
	readonly id: string;
	/** Words of the same meaning, longest first. */
	readonly texts: readonly string[];
	/** Place on the rail, px, and where the words stand to it, best first. */
	readonly at: number;
	readonly stands: readonly ('after' | 'about' | 'before')[];
	/** May be shifted to stay on the rail. Without it, words that would reach beyond its ends are not drawn. */
	readonly slides?: boolean;
	/** Rather all of these in their shortest words than one of them in long ones. */
	readonly keep?: boolean;
}

export interface Placed {
	readonly id: string;
	readonly text: string;
	/** Left edge and width, px. */
	readonly x: number;
	readonly width: number;
}

/**
 * Places words in one row so that none overlap: in the order given (most important first), each takes its longest text that
 * fits at one of its places; words that fit nowhere are dropped. Where that would drop words to keep, all of these are shortened
 * if more of them can then stand. `letterPx` is the font size, `widthPx` the row's.
 */
export function placeLabels(wishes: readonly Wish[], widthPx: number, letterPx: number): Placed[] {
	const keep = new Set(wishes.filter((wish) => wish.keep).map(({ id }) => id));
	const kept = (placed: readonly Placed[]) => placed.filter(({ id }) => keep.has(id)).length;
	const long = inOrder(wishes, widthPx, letterPx);
	if (kept(long) === keep.size) return long;
	const short = inOrder(wishes.map((wish) => (wish.keep ? { ...wish, texts: wish.texts.slice(-1) } : wish)), widthPx, letterPx);
	return kept(short) > kept(long) ? short : long;
}

function inOrder(wishes: readonly Wish[], widthPx: number, letterPx: number): Placed[] {
	const gap = 0.7 * letterPx;
	const beside = 0.3 * letterPx;
	const placed: Placed[] = [];
	const free = (x: number, width: number) =>
		x >= 0 && x + width <= widthPx && placed.every((other) => x >= other.x + other.width + gap || x + width + gap <= other.x);
	for (const wish of wishes) {
		const spots = wish.texts.flatMap((text) => {
			const width = textWidthPx(text, letterPx);
			return wish.stands.map((stand) => {
				const x = stand === 'after' ? wish.at + beside : stand === 'about' ? wish.at - width / 2 : wish.at - width - beside;
				return { id: wish.id, text, width, x: wish.slides ? Math.max(0, Math.min(widthPx - width, x)) : x };
			});
		});
		const spot = spots.find(({ x, width }) => free(x, width));
		if (spot) placed.push(spot);
	}
	return placed;
}
