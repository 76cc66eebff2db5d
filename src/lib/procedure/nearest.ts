/** The known name nearest to a mistyped one, if it is near enough to be meant; null otherwise. */
export function nearest(name: string, known: Iterable<string>): string | null {
	if (name.length > 60) return null;
	let best: string | null = null;
	let bestCost = Math.max(1, Math.floor(name.length / 3)) + 1;
	for (const candidate of known) {
		if (Math.abs(candidate.length - name.length) >= bestCost) continue;
		const cost = edits(name.toLowerCase(), candidate.toLowerCase());
		if (cost < bestCost) [best, bestCost] = [candidate, cost];
	}
	return best;
}

/** `; did you mean "x"?` or nothing. */
export const didYouMean = (name: string, known: Iterable<string>): string => {
	const found = nearest(name, known);
	return found === null ? '' : `; did you mean "${found}"?`;
};

/** Insertions, deletions, replacements and swaps of neighbours (Damerau 1964, restricted). */
function edits(a: string, b: string): number {
	let before: number[] = [];
	let row = Array.from({ length: b.length + 1 }, (_, j) => j);
	for (let i = 1; i <= a.length; i++) {
		const next = [i];
		for (let j = 1; j <= b.length; j++) {
			const same = a[i - 1] === b[j - 1] ? 0 : 1;
			let cost = Math.min((row[j] as number) + 1, (next[j - 1] as number) + 1, (row[j - 1] as number) + same);
			if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) cost = Math.min(cost, (before[j - 2] as number) + 1);
			next.push(cost);
		}
		before = row;
		row = next;
	}
	return row[b.length] as number;
}
