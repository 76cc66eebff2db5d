/** Bounds on what a procedure file may be, so that a hostile one costs bounded time and memory. */
export const limits = {
	/** UTF-16 code units of one file. The shipped visit has about 70,000. */
	fileLength: 1_000_000,
	/** Nested lists and maps. The language itself needs 12. */
	depth: 32,
	/** Values in one file. */
	nodes: 60_000,
	/** Files that one procedure may include. */
	includes: 8,
	/** Steps after fragments have been unfolded. */
	steps: 5_000,
	/** Fragments within fragments. */
	fragmentDepth: 8,
	/** Faults reported in one pass; the last one tells that there are more. */
	faults: 200,
	/** Characters of one wording. */
	text: 2_000
} as const;
