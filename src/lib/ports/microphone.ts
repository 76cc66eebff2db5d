/** Sound from the device's microphone. */
export interface Microphone {
	/**
	 * Opens it; `take` gets blocks of samples (−1 to 1, one channel) at the rate that is returned, `lost` is called once if it goes away.
	 * Rejects with a MicrophoneFault.
	 */
	open(take: (samples: Float32Array) => void, lost: () => void): Promise<OpenMicrophone>;
}

export interface OpenMicrophone {
	/** Hz. */
	readonly sampleRate: number;
	close(): void;
}

/** Why there is no sound. `denied`: the person or a policy says no. `missing`: there is none. `broken`: it or its processing fails. */
export class MicrophoneFault extends Error {
	override readonly name = 'MicrophoneFault';
	constructor(readonly reason: 'denied' | 'missing' | 'broken', message: string) {
		super(message);
	}
}
