import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { defineConfig } from '@playwright/test';

const port = Number(process.env.HANDRAIL_PORT ?? 4173);
const root = fileURLToPath(new URL('../..', import.meta.url));
const system = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'].find((path) => existsSync(path));

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
			args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync']
		}
	},
	webServer: { command: `node build/cli/handrail.js serve --port ${port}`, cwd: root, port, reuseExistingServer: !process.env.CI, timeout: 60_000 }
});
