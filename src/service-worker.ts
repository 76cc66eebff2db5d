/// <reference types="@sveltejs/kit" />
/// <reference lib="webworker" />
import { build, files, prerendered, version } from '$service-worker';

/**
 * Everything the app needs is kept on the device at the first visit, so that it works with the server gone. A new
 * version waits until the person takes it between runs (message "take over"): no run changes its code midway.
 */
const worker = globalThis as unknown as ServiceWorkerGlobalScope;
const shell = '/';
const kept = `handrail-${version}`;
const assets = [shell, ...build, ...files, ...prerendered];

worker.addEventListener('install', (event) => {
	event.waitUntil(caches.open(kept).then((cache) => cache.addAll(assets)));
});

worker.addEventListener('activate', (event) => {
	const tidy = async () => {
		const stale = (await caches.keys()).filter((name) => name.startsWith('handrail-') && name !== kept && name !== 'handrail-marker');
		await Promise.all(stale.map((name) => caches.delete(name)));
		await worker.clients.claim();
	};
	event.waitUntil(tidy());
});

worker.addEventListener('message', (event) => {
	if (event.data === 'take over') void worker.skipWaiting();
});

worker.addEventListener('fetch', (event) => {
	const { request } = event;
	const url = new URL(request.url);
	if (request.method !== 'GET' || url.origin !== location.origin || url.pathname.startsWith('/api/')) return;
	event.respondWith(answer(request, request.mode === 'navigate' ? shell : url.pathname));
});

async function answer(request: Request, path: string): Promise<Response> {
	const cached = await (await caches.open(kept)).match(path);
	return cached ?? fetch(request);
}
