import adapter from '@sveltejs/adapter-node';
import { vitePreprocess } from '@sveltejs/vite-plugin-svelte';

/** @type {import('@sveltejs/kit').Config} */
export default {
	preprocess: vitePreprocess(),
	compilerOptions: { runes: true },
	kit: {
		adapter: adapter({ out: 'build/app' }),
		// deep links must load offline: relative asset paths would break them
		paths: { relative: false },
		serviceWorker: { register: false },
		alias: { $procedures: 'procedures' },
		version: { pollInterval: 0 }
	}
};
