/** Random ids, so that tests can bring their own. */
export interface Chance {
	/** 128 random bits as 32 hex digits. */
	id(): string;
}
