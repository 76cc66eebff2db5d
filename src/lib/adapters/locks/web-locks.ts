import type { WriterLock } from '$lib/ports/journal-store';
import type { LockKeeper } from './lock-keeper';

/** A lock freed a moment ago (a reload, a release) may still look held: asked again this often before it is called taken. */
const TRIES = 4;
const WAIT_MS = 40;

/** Locks across all tabs of this origin (Web Locks); the browser frees them when a tab ends, however it ends. */
export function webLocks(locks: LockManager): LockKeeper {
	const once = (run: string) =>
		new Promise<WriterLock | null>((resolve, reject) => {
			const granted = (lock: Lock | null) => {
				if (!lock) return resolve(null);
				return new Promise<void>((release) => resolve({ run, release }));
			};
			locks.request(`handrail-writer-${run}`, { ifAvailable: true }, granted).catch(reject);
		});
	return {
		async take(run) {
			for (let i = 1; ; i++) {
				const lock = await once(run);
				if (lock || i === TRIES) return lock;
				await new Promise((resolve) => setTimeout(resolve, WAIT_MS));
			}
		}
	};
}
