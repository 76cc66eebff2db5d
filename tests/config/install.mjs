// Installs what is missing, says clearly what can't be.
import { execFileSync, execSync } from 'node:child_process';
import { existsSync, statSync } from 'node:fs';

const [major, minor] = process.versions.node.split('.').map(Number);
if (major < 20 || (major === 20 && minor < 19)) {
	console.error(`Handrail needs Node 20.19 or newer; this is ${process.versions.node}.`);
	process.exit(2);
}

/** Dependencies by the lock file, if they are missing or older than it. */
export function installPackages() {
	const mark = 'node_modules/.package-lock.json';
	if (existsSync(mark) && statSync(mark).mtimeMs >= statSync('package-lock.json').mtimeMs) return;
	console.log('Installing packages …');
	try {
		execSync('npm ci --no-audit --no-fund', { stdio: ['ignore', 'ignore', 'inherit'] });
	} catch {
		console.error('The packages could not be installed: is the npm registry reachable from here? Nothing was changed.');
		process.exit(2);
	}
}

const places = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
/** Path of a Chromium for the browser tests; tries the system's package manager; null with a clear message if there is none. */
export function findChromium() {
	const found = () => places.find((path) => existsSync(path)) ?? null;
	if (found()) return found();
	if (process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
		console.log('Installing Chromium for the browser tests …');
		try {
			execSync('apt-get update -qq && apt-get install -y -qq --no-install-recommends chromium fonts-dejavu-core', { stdio: 'ignore' });
		} catch {
			console.error('apt-get could not install Chromium.');
		}
		if (found()) return found();
	}
	try {
		execFileSync('npx', ['--no-install', 'playwright', 'install', 'chromium'], { stdio: 'ignore' });
		return 'playwright';
	} catch {
		console.error('No Chromium was found and none could be installed: the browser tests are not run. Install the package "chromium".');
		return null;
	}
}
