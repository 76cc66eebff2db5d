/** Insertions, deletions and substitutions that turn one sequence of words into another (V. Levenshtein, 1966). */
export function editDistance(a: readonly string[], b: readonly string[]): number {
	let row = Array.from({ length: b.length + 1 }, (_, j) => j);
	for (const [i, word] of a.entries()) {
		const next = [i + 1];
		for (let j = 0; j < b.length; j++) next.push(Math.min(row[j]! + (word === b[j] ? 0 : 1), row[j + 1]! + 1, next[j]! + 1));
		row = next;
	}
	return row[b.length]!;
}
