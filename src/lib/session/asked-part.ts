/** A part as Start asks about it. */
export interface AskedPart {
	readonly id: string;
	readonly name: string;
	readonly options: readonly { readonly value: string; readonly text: string }[];
	readonly is: string | null;
	readonly isText: string;
	readonly known: string;
	/** Why it must be answered before the run can begin; null where it need not. */
	readonly why: string | null;
}
