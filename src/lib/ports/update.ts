/** A newer version of the app that waits; it is taken between runs only. */
export interface Update {
	/** Calls back once a newer version is ready. */
	onready(then: () => void): void;
	/** Takes it over and reloads. */
	take(): void;
}
