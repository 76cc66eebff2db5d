import type { Wakefulness } from '$lib/ports/settings';

/** Screen Wake Lock (W3C). The browser drops it whenever the page is hidden, so it is asked for again when seen. */
export function screenWakeLock(page: Document): Wakefulness {
	let wanted = false;
	let lock: WakeLockSentinel | null = null;
	const ask = async (): Promise<boolean> => {
		if (!navigator.wakeLock || page.visibilityState !== 'visible') return false;
		try {
			lock = await navigator.wakeLock.request('screen');
			return true;
		} catch (fault) {
			// refused on a low battery or by policy: the caller tells, the walk goes on
			if (fault instanceof DOMException) return false;
			throw fault;
		}
	};
	page.addEventListener('visibilitychange', () => void (wanted && ask()));
	return {
		hold: () => {
			wanted = true;
			return ask();
		},
		release: () => {
			wanted = false;
			void lock?.release();
			lock = null;
		}
	};
}
