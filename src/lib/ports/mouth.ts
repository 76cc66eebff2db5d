/** What the guide says and sounds. */
export interface Mouth {
	/** Whether a voice for this language exists on the device. */
	canSpeak(language: string): boolean;
	/** Speaks, replacing what is being said. Resolves when it ended or was silenced. */
	speak(text: string, language: string): Promise<void>;
	/** Plays an earcon. 200–5000 Hz (NUREG-0700 r2 1.3.11-17). */
	sound(earcon: Earcon): void;
	silence(): void;
	/** True while anything is heard from the guide: the ears are deaf meanwhile. */
	readonly sounding: boolean;
}

export type Earcon = 'done' | 'refused' | 'attention' | 'time';
