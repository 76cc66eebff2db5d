/** A trial that was heard before, played back to a listener as if it were sound. */
import { EMBEDDING_SIZE } from '$lib/voice/features/embedding';
import type { Heard, Hears } from '$lib/voice/stages';
import { VOCABULARY } from '../vocabulary';
import type { Posteriors } from './cache';

/** What the head said of a step that was not kept: no word. */
export const QUIET = Float32Array.from({ length: VOCABULARY.length + 1 }, (_, i) => (i === VOCABULARY.length ? 0 : -Infinity));

export interface Replayed {
	readonly trial: Posteriors;
	readonly vectors: Float32Array;
}

/** Give it a trial, then push any sound: the whole trial is heard. */
export class Replay implements Hears {
	#next: Replayed | null = null;

	load(replayed: Replayed): void {
		this.#next = replayed;
	}

	reset(): void {
		this.#next = null;
	}

	push(_: Float32Array, take: (heard: Heard) => void): void {
		if (!this.#next) return;
		const { trial, vectors } = this.#next;
		let lively = 0;
		for (let step = 0; step < trial.steps; step++) {
			const kept = trial.lively[lively]?.step === step ? trial.lively[lively++] : undefined;
			take({ vector: vectors.subarray(step * EMBEDDING_SIZE, (step + 1) * EMBEDDING_SIZE), logProbabilities: kept ? Float32Array.from(kept.logP) : QUIET });
		}
	}
}
