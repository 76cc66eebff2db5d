/** What keys, pedals and clickers do, before it is known which command it means. */
export interface KeyPress {
	/** KeyboardEvent.key value, or a media session action such as "MediaTrackNext". */
	readonly key: string;
	/** The learned pedal key: a press when released soon, a hold when not. */
	readonly kind: 'key' | 'pedal press' | 'pedal hold';
}

export interface Keys {
	/** Calls back for every press until stopped; presses into text fields are left alone. */
	listen(onPress: (press: KeyPress) => void): () => void;
	/** "Press it now": resolves with the next key pressed, whatever it is; rejects with AbortError on the signal. */
	learn(signal: AbortSignal): Promise<string>;
	/** Which key is the pedal; null: none. */
	setPedal(key: string | null): void;
}
