import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { svelteTesting } from '@testing-library/svelte/vite';
import { defineConfig } from 'vitest/config';

const at = (path: string) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const alias = { $lib: at('src/lib'), $procedures: at('procedures') };

/** Two projects: `pure` needs no browser and also runs on the current long-term Node; `component` renders in jsdom. */
export default defineConfig({
	root: at('.'),
	test: {
		// else one core is left idle, and on two cores that is half of them
		maxWorkers: '100%',
		projects: [
			{
				resolve: { alias },
				test: {
					name: 'pure',
					environment: 'node',
					include: ['src/**/*.test.ts', 'tests/{architecture,contract,simulation,published,golden,cli,formats}/**/*.test.ts'],
					exclude: ['src/**/*.svelte.test.ts'],
					testTimeout: 60_000
				}
			},
			{
				plugins: [svelte(), svelteTesting()],
				resolve: { alias },
				test: {
					name: 'component',
					environment: 'jsdom',
					include: ['src/**/*.svelte.test.ts', 'tests/component/**/*.test.ts'],
					testTimeout: 60_000
				}
			}
		]
	}
});
