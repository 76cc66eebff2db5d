/**
 * Edit distance of two sequences: the least number of insertions, deletions and substitutions that make one the other
 * (Levenshtein 1966, from memory). O(a·b).
 */
export function editDistance(a: readonly string[], b: readonly string[]): number {
	let row = b.map((_, at) => at + 1);
	let corner = 0;
	for (const [i, from] of a.entries()) {
		let left = i + 1;
		const next: number[] = [];
		for (const [j, to] of b.entries()) {
			const above = row[j] ?? 0;
			left = Math.min(above + 1, left + 1, corner + (from === to ? 0 : 1));
			corner = above;
			next.push(left);
		}
		corner = i + 1;
		row = next;
	}
	return row.at(-1) ?? a.length;
}
