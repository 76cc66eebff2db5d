// Makes what is generated and not committed: SvelteKit's types, the compiled message library and the compiled editions.
import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { buildSync } from 'esbuild';

const run = (command, args) => execFileSync('npx', ['--no-install', command, ...args], { stdio: ['ignore', 'pipe', 'inherit'] });
const newer = (source, made) => !existsSync(made) || statSync(source).mtimeMs > statSync(made).mtimeMs;

/** Compiled editions: static/editions/ID.json, index.json, and static/procedure.schema.json for editors. */
function compileEditions() {
	const sources = ['procedures', 'src/lib/procedure'].flatMap((folder) => readdirSync(folder).filter((name) => /\.(yaml|ts)$/.test(name)).map((name) => `${folder}/${name}`));
	if (![...sources, 'src/cli/compile-editions.ts'].some((source) => newer(source, 'static/editions/index.json'))) return;
	const outfile = 'build/cli/compile-editions.js';
	buildSync({ entryPoints: ['src/cli/compile-editions.ts'], outfile, bundle: true, platform: 'node', format: 'esm', target: 'node20', packages: 'external', alias: { $lib: './src/lib' }, logLevel: 'warning' });
	execFileSync(process.execPath, [outfile, 'procedures', 'static'], { stdio: 'inherit' });
}

export function generate() {
	run('svelte-kit', ['sync']);
	// one language: the library's usual way would ask the page's cookie at every message, which costs as much as drawing the page
	if (['src/messages/en.json', 'tests/config/generate.mjs'].some((source) => newer(source, 'src/lib/paraglide/messages.js')))
		run('paraglide-js', ['compile', '--project', 'src/messages/handrail.inlang', '--outdir', 'src/lib/paraglide', '--strategy', 'baseLocale', '--silent']);
	compileEditions();
}
if (process.argv[1]?.endsWith('generate.mjs')) generate();
