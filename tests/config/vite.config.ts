import { sveltekit } from '@sveltejs/kit/vite';
import { defineConfig } from 'vite';

// What Start and Walk need stands in one chunk: seventy small ones compressed worse, and a visit needs both.
const visit = /[\\/]src[\\/]routes[\\/](walk[\\/]\[run\][\\/])?\+(layout|page)\.svelte$/;

export default defineConfig({
	plugins: [sveltekit()],
	worker: { format: 'es' },
	build: { target: 'es2022' },
	environments: { client: { build: { rolldownOptions: { output: { codeSplitting: { groups: [{ name: 'visit', test: visit }] } } } } } }
});
