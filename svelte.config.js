import adapter from '@sveltejs/adapter-node';
import { vitePreprocess } from '@sveltejs/vite-plugin-svelte';

// another folder lets a second build stand beside the app (tests: the pseudo-language)
const out = process.env.HANDRAIL_OUT ?? 'build';

/** @type {import('@sveltejs/kit').Config} */
export default {
	preprocess: vitePreprocess(),
	compilerOptions: { runes: true },
	kit: {
		outDir: out === 'build' ? '.svelte-kit' : `${out}/kit`,
		adapter: adapter({ out: `${out}/app` }),
		// deep links must load offline: relative asset paths would break them
		paths: { relative: false },
		serviceWorker: { register: false },
		alias: { $procedures: 'procedures' },
		version: { pollInterval: 0 }
	}
};
