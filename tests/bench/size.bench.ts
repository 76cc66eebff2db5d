import { spawn } from 'node:child_process';
import { gzipSync } from 'node:zlib';
import { chromium } from '@playwright/test';
import { systemBrowser } from '../crash/browser';
import { begin } from '../e2e/visit';
import type { Figure } from './figure';

const port = 4390;

/** What a tablet loads before the first step of a visit can be walked, service worker apart (it keeps everything, later). */
export async function figures(): Promise<Figure[]> {
	const server = spawn(process.execPath, ['build/cli/handrail.js', 'serve', '--port', String(port)], { stdio: ['ignore', 'pipe', 'inherit'] });
	const executablePath = systemBrowser();
	const browser = await chromium.launch({ args: ['--no-sandbox'], ...(executablePath ? { executablePath } : {}) });
	try {
		await new Promise((resolve) => server.stdout.once('data', resolve));
		const context = await browser.newContext({ serviceWorkers: 'block' });
		const page = await context.newPage();
		const sizes = new Map<string, Promise<number>>();
		page.on('response', (response) => {
			if (response.request().resourceType() === 'script' && response.ok()) sizes.set(response.url(), response.body().then((body) => gzipSync(body).length));
		});
		await begin(page, 'A whole lift-out visit', `http://localhost:${port}/`);
		await page.waitForLoadState('networkidle');
		const bytes = (await Promise.all(sizes.values())).reduce((sum, size) => sum + size, 0);
		return [{ name: 'JavaScript for Start and Walk, gzip', value: Number((bytes / 1000).toFixed(1)), unit: 'KB', goal: '≤ 120', n: sizes.size, source: 'scripts that Chromium loaded until the first step stood, each through gzip -6' }];
	} finally {
		await browser.close();
		server.kill();
	}
}
