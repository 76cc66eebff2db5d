/** A part as Start asks about it. */
export interface AskedPart {
	readonly id: string;
	readonly name: string;
	readonly options: readonly { readonly value: string; readonly text: string }[];
	readonly is: string | null;
	readonly isText: string;
	readonly known: string;
	/** It must be answered before the run can begin. */
	readonly asked: boolean;
	/** What is wrong with what is known; null where nothing is. */
	readonly why: string | null;
}
