import type { Update } from '$lib/ports/update';

/** Registers the service worker and watches for a waiting one. Without service workers nothing ever waits. */
export function serviceWorkerUpdate(path: string): Update {
	let waiting: ServiceWorker | null = null;
	let tell = () => {};
	const found = (worker: ServiceWorker | null) => {
		if (!worker || !navigator.serviceWorker.controller) return;
		waiting = worker;
		tell();
	};
	if ('serviceWorker' in navigator)
		void navigator.serviceWorker.register(path, { type: 'module' }).then((registration) => {
			found(registration.waiting);
			registration.addEventListener('updatefound', () => {
				const coming = registration.installing;
				coming?.addEventListener('statechange', () => coming.state === 'installed' && found(coming));
			});
		});
	return {
		onready(then) {
			tell = then;
			if (waiting) then();
		},
		take() {
			navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
			waiting?.postMessage('take over');
		}
	};
}
