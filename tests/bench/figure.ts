/** One measured figure: what was measured, how well, and against what goal. */
export interface Figure {
	readonly name: string;
	readonly value: number | string;
	readonly unit?: string;
	/** What was to be reached, in words or numbers. */
	readonly goal?: string;
	/** How many cases the value rests on. */
	readonly n?: number;
	/** 95 % interval of the value. */
	readonly interval?: readonly [number, number];
	/** Where the truth comes from. */
	readonly source: string;
}
