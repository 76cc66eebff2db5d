import { fileURLToPath } from 'node:url';
import { defineConfig } from '@playwright/test';
import { browserFlags, systemBrowser } from '../crash/browser';

const port = Number(process.env.HANDRAIL_PORT ?? 4173);
const root = fileURLToPath(new URL('../..', import.meta.url));
const system = systemBrowser();

export default defineConfig({
	testDir: '../e2e',
	outputDir: '../../test-results',
	fullyParallel: true,
	// two cores: more workers only make each other slow
	workers: 2,
	timeout: 120_000,
	expect: { timeout: 15_000 },
	reporter: process.env.HANDRAIL_REPORT ? [['json', { outputFile: process.env.HANDRAIL_REPORT }], ['line']] : 'line',
	use: {
		baseURL: `http://localhost:${port}`,
		viewport: { width: 1280, height: 800 },
		actionTimeout: 30_000,
		launchOptions: {
			...(system ? { executablePath: system } : {}),
			args: browserFlags
		}
	},
	webServer: { command: `node build/cli/handrail.js serve --port ${port}`, cwd: root, port, reuseExistingServer: !process.env.CI, timeout: 60_000 }
});
