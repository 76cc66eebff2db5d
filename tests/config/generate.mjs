// Makes what is generated and not committed: SvelteKit's types and the compiled message library.
import { execFileSync } from 'node:child_process';
import { existsSync, statSync } from 'node:fs';

const run = (command, args) => execFileSync('npx', ['--no-install', command, ...args], { stdio: ['ignore', 'pipe', 'inherit'] });
const newer = (source, made) => !existsSync(made) || statSync(source).mtimeMs > statSync(made).mtimeMs;

export function generate() {
	run('svelte-kit', ['sync']);
	if (newer('src/messages/en.json', 'src/lib/paraglide/messages.js'))
		run('paraglide-js', ['compile', '--project', 'src/messages/handrail.inlang', '--outdir', 'src/lib/paraglide', '--silent']);
}
if (process.argv[1]?.endsWith('generate.mjs')) generate();
