/** Small values kept on this device, not part of any journal. */
export interface SettingsStore {
	load<T>(key: string): Promise<T | undefined>;
	save(key: string, value: unknown): Promise<void>;
}
/** Keeps the screen awake while a run is walked. */
export interface Wakefulness {
	/** Asks for it; true if it holds. Asks again by itself when the page is seen again. */
	hold(): Promise<boolean>;
	release(): void;
}
