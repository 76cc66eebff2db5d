import type { WriterLock } from '$lib/ports/journal-store';

/** Hands out the one writer's lock of a run. */
export interface LockKeeper {
	/** Null if someone else holds it. */
	take(run: string): Promise<WriterLock | null>;
}
