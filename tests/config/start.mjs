// `npm start`: installs what is missing, builds if a source is newer than the build, serves.
import { spawn } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { installPackages } from './install.mjs';

installPackages();

function newest(path) {
	const stat = statSync(path);
	if (!stat.isDirectory()) return stat.mtimeMs;
	return Math.max(0, ...readdirSync(path).filter((n) => n !== 'paraglide' && n !== 'editions').map((name) => newest(join(path, name))));
}
const sources = ['src', 'static', 'procedures', 'package-lock.json', 'svelte.config.js', 'tests/config'];
const made = 'build/cli/handrail.js';
const app = 'build/app/handler.js';
const fresh = [made, app].every((file) => existsSync(file) && statSync(file).mtimeMs > Math.max(...sources.map(newest)));
if (!fresh) {
	console.log('Building …');
	await import('./build.mjs');
}
const server = spawn(process.execPath, [made, 'serve', ...process.argv.slice(2)], { stdio: 'inherit' });
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => server.kill(signal));
server.on('exit', (code) => process.exit(code ?? 0));
