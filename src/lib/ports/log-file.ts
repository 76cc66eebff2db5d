/** One file outside this app that the operator picked once, and to which finished runs are appended. */
export interface LogFile {
	/** Name of the picked file; null: none yet. */
	kept(): Promise<string | null>;
	/** Lets the person pick it; null where the person thought better of it. Needs a press. */
	pick(): Promise<string | null>;
	/**
	 * Appends `text` behind what stands, unless `mark` stands in the file already. Resolves false in that case. The file is
	 * replaced whole when all is written, so a crash leaves it as it was. Needs a press. Throws where none was picked, where
	 * the person does not allow it, and where the file cannot be written.
	 */
	append(text: string, mark: string): Promise<boolean>;
	forget(): Promise<void>;
}
