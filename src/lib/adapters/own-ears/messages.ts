/** What the page and the recogniser's worker say to each other. */
export type ToRecogniser =
	| { readonly kind: 'load' }
	| { readonly kind: 'begin'; readonly sampleRate: number }
	| { readonly kind: 'sound'; readonly samples: Float32Array }
	| { readonly kind: 'open'; readonly words: readonly string[] };

export type FromRecogniser =
	| { readonly kind: 'ready'; readonly words: readonly string[] }
	/** The model cannot be used; `message` says why. */
	| { readonly kind: 'unusable'; readonly message: string }
	/** 0 to 1, one each 80 ms. */
	| { readonly kind: 'level'; readonly level: number }
	| { readonly kind: 'heard'; readonly alternatives: readonly { readonly word: string; readonly confidence: number }[]; readonly unsure: boolean };

/** The page's end of the wire to the recogniser: a worker, or in tests the same code beside the page. */
export interface RecogniserLine {
	post(message: ToRecogniser): void;
	close(): void;
}

/** Begins a recogniser; `take` gets its messages, `fail` is called if it breaks down. */
export type BeginRecogniser = (take: (message: FromRecogniser) => void, fail: (message: string) => void) => RecogniserLine;
