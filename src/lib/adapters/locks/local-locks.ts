import type { LockKeeper } from './lock-keeper';

/** Locks within one page: for tests, and for a browser without Web Locks, where another tab is not kept out. */
export function localLocks(): LockKeeper {
	const held = new Set<string>();
	return {
		async take(run) {
			if (held.has(run)) return null;
			held.add(run);
			let mine = true;
			return {
				run,
				release() {
					if (mine) held.delete(run);
					mine = false;
				}
			};
		}
	};
}
