/** One thing wrong with a procedure file: where, and a sentence that says what was expected. */
export interface Fault {
	readonly file: string;
	/** From 1. */
	readonly line: number;
	/** From 1, in UTF-16 code units. */
	readonly column: number;
	readonly sentence: string;
}

/** A place in a procedure file. */
export interface Position {
	readonly file: string;
	readonly line: number;
	readonly column: number;
}

/** `file:line:column: sentence`, as compilers say it. */
export const faultLine = (fault: Fault): string => `${fault.file}:${fault.line}:${fault.column}: ${fault.sentence}`;

/** In the order of the text; the same fault at the same place once. */
export function inOrder(faults: readonly Fault[]): Fault[] {
	const seen = new Set<string>();
	return [...faults]
		.sort((a, b) => (a.file < b.file ? -1 : a.file > b.file ? 1 : a.line - b.line || a.column - b.column))
		.filter((fault) => {
			const key = faultLine(fault);
			return !seen.has(key) && seen.add(key);
		});
}
