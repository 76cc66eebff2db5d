// Runs one of the voice tools: node tests/voice/run.mjs NAME ARGUMENTS…  Bundles tests/voice/NAME.ts first, so that Node can run it.
import { spawnSync } from 'node:child_process';
import { build } from 'esbuild';

const [name, ...rest] = process.argv.slice(2);
const outfile = `build/voice/${name}.mjs`;
// what a tool starts for itself is bundled with it
const PARTS = ['bench-peer', 'bench-talk', 'bench-words', 'pieces', 'ship', 'synthesise'];
await build({
	entryPoints: Object.fromEntries([name, ...PARTS].map((part) => [part.replace(/.*\//, ''), `tests/voice/${part}.ts`])),
	outdir: 'build/voice',
	outExtension: { '.js': '.mjs' },
	bundle: true,
	platform: 'node',
	format: 'esm',
	target: 'node20',
	alias: { $lib: './src/lib' },
	logLevel: 'warning'
});
process.exitCode = spawnSync(process.execPath, ['--max-old-space-size=8192', outfile, ...rest], { stdio: 'inherit' }).status ?? 1;
