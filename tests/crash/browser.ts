import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { chromium, type BrowserContext, type Page } from '@playwright/test';

const places = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
/** Quiet, and alone on the machine. */
export const browserFlags = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'];

/** A browser on a profile that lasts, and the means to kill it as a flat battery would. */
export interface KillableBrowser {
	readonly page: Page;
	readonly context: BrowserContext;
	/** SIGKILL to every process of this profile, the main one first; resolves when they are gone. */
	kill(): Promise<void>;
}

/** The system's browser; undefined: Playwright's own. */
export const systemBrowser = (): string | undefined => places.find((path) => existsSync(path));

export async function launch(profile: string): Promise<KillableBrowser> {
	const executablePath = systemBrowser();
	const context = await chromium.launchPersistentContext(profile, { ...(executablePath ? { executablePath } : {}), args: browserFlags });
	const page = context.pages()[0] ?? (await context.newPage());
	return {
		page,
		context,
		async kill() {
			const closed = new Promise<void>((resolve) => context.once('close', () => resolve()));
			for (const pid of processesOf(profile)) kill(pid);
			await closed;
			while (processesOf(profile).length) await new Promise((resolve) => setTimeout(resolve, 5));
		}
	};
}

/** Processes of a profile, the one without `--type` first. Linux only: reads /proc. */
function processesOf(profile: string): number[] {
	const found: { pid: number; main: boolean }[] = [];
	for (const name of readdirSync('/proc')) {
		if (!/^\d+$/.test(name)) continue;
		const command = commandLine(name);
		if (command.includes(`--user-data-dir=${profile}`) && !command.startsWith('sh')) found.push({ pid: Number(name), main: !command.includes('--type=') });
	}
	return found.sort((a, b) => Number(b.main) - Number(a.main)).map(({ pid }) => pid);
}

function commandLine(pid: string): string {
	try {
		return readFileSync(`/proc/${pid}/cmdline`, 'utf8');
	} catch (thrown) {
		// it ended between the listing and the reading
		if (['ENOENT', 'ESRCH'].includes((thrown as NodeJS.ErrnoException).code ?? '')) return '';
		throw thrown;
	}
}

function kill(pid: number): void {
	try {
		process.kill(pid, 'SIGKILL');
	} catch (thrown) {
		if ((thrown as NodeJS.ErrnoException).code !== 'ESRCH') throw thrown;
	}
}
