import type { Stamp } from '$lib/record/chain';

/** Wall and monotonic clock together. */
export interface Clock {
	now(): Stamp;
	/** Milliseconds since the epoch by the wall clock. */
	wallMs(): number;
	/** IANA zone. */
	readonly zone: string;
	/** Calls back about every `everyMs`; returns how to stop it. */
	every(everyMs: number, tick: () => void): () => void;
	/** Calls back once after `afterMs`; returns how to stop it. */
	after(afterMs: number, then: () => void): () => void;
}
