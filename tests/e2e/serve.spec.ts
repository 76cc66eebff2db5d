import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { expect, test } from '@playwright/test';

const cert = ['--cert', 'tests/fixtures/tls/cert.pem'];
const key = ['--key', 'tests/fixtures/tls/key.pem'];
const refused = (...args: string[]) => {
	const { status, stderr } = spawnSync(process.execPath, ['build/cli/handrail.js', 'serve', ...args], { encoding: 'utf8' });
	return `${status} ${stderr}`;
};

test('C10 with a certificate the app is served over https, where a browser lets it keep records', async ({ browser }) => {
	const port = 4391;
	const server = spawn(process.execPath, ['build/cli/handrail.js', 'serve', '--port', String(port), ...cert, ...key], { stdio: ['ignore', 'pipe', 'inherit'] });
	try {
		const [line] = await once(server.stdout, 'data');
		expect(String(line)).toBe(`Handrail is at https://localhost:${port}\n`);
		const context = await browser.newContext({ ignoreHTTPSErrors: true });
		const page = await context.newPage();
		await page.goto(`https://localhost:${port}/`);
		await expect(page.getByRole('button', { name: 'I have read this' })).toBeVisible();
		expect(await page.evaluate(() => isSecureContext)).toBe(true);
	} finally {
		server.kill();
	}
});

test('C10 half a pair, files that are missing or no certificate are refused in a sentence', () => {
	expect(refused(...cert)).toMatch(/^2 .*belong together/s);
	expect(refused('--cert', 'nowhere.pem', ...key)).toMatch(/^2 .*nowhere\.pem can't be read; expected a file in PEM form/s);
	expect(refused('--cert', 'package.json', ...key)).toMatch(/^2 .*no certificate and its key in PEM form/s);
});
